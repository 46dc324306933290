namespace StationFleet.Domain.Simulation;

/// <summary>
/// How likely the boaters of one day are to use each tool. In a world that is not plain, shares move in logits: with the season, with
/// the day as a whole, with the day for each tool, and with the boat; an event's boats have habits of their own.
/// </summary>
internal sealed class DayHabits
{
    private const double DriftDays = 200;

    private readonly double[] _logits;

    private DayHabits(IReadOnlyList<ToolHabit> tools, double[] logits, double boatLean) => (Tools, _logits, BoatLean) = (tools, logits, boatLean);

    public IReadOnlyList<ToolHabit> Tools { get; }

    /// <summary>Standard deviation between boats [logit]; 0 in a plain world.</summary>
    public double BoatLean { get; }

    public static DayHabits Of(StationPlan plan, DateOnly date, bool atEvent = false)
    {
        World world = plan.World;
        if (world.IsPlain)
        {
            return new DayHabits(plan.Habits, [], 0);
        }

        string code = plan.Station.Code;
        Dice day = Dice.For(plan.Seed, code + (atEvent ? "/event-habits" : "/day-habits"), date.DayNumber);
        double common = world.DayLean * day.Normal();
        double[] logits = new double[plan.Habits.Count];
        for (int tool = 0; tool < logits.Length; tool++)
        {
            ToolHabit habit = plan.Habits[tool];
            Dice own = Dice.For(plan.Seed, $"{code}/{habit.Slug}/habit");
            double lean = world.StationLean * own.Normal();
            double drift = world.DriftLean * own.Next() * Math.Sin(2 * Math.PI * ((date.DayOfYear / DriftDays) + own.Next()));
            double today = (atEvent ? world.EventLean : world.ToolDayLean) * day.Normal();
            double share = Math.Clamp(habit.Share, 0.001, 0.999);
            logits[tool] = Math.Log(share / (1 - share)) + lean + drift + common + today;
        }

        return new DayHabits(plan.Habits, logits, world.BoatLean);
    }

    /// <summary>The chance that a boat uses a tool.</summary>
    /// <param name="tool">The tool's place.</param>
    /// <param name="boat">The boat's own lean [logit].</param>
    public double Share(int tool, double boat) =>
        _logits.Length == 0 ? Tools[tool].Share : 1 / (1 + Math.Exp(-(_logits[tool] + boat)));
}
