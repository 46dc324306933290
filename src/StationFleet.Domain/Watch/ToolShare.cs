namespace StationFleet.Domain.Watch;

/// <summary>
/// Which share of the use sessions picks a tool up: a beta distribution, learned from the sessions with half of the weight on the
/// last 400, from a start that knows little.
/// </summary>
/// <remarks>
/// The current run of misses is not learned before the tool is used again: else a dying tool would teach that nobody likes it.
/// Of several sessions read as one lump in which the tool's total rose, k·p/(1 − (1 − p)^k) are expected to have used it.
/// </remarks>
internal static class ToolShare
{
    /// <summary>What is thought before anything was seen: a third, with the weight of three sessions.</summary>
    private const double PriorUsed = 1;
    private const double PriorPassedOver = 2;
    private const int MostDaysKept = 120;
    private static readonly double Fading = Math.Pow(2, -1.0 / 400);

    public static double A(ToolFacts tool) => PriorUsed + tool.Used;

    public static double B(ToolFacts tool) => PriorPassedOver + tool.PassedOver;

    public static double Mean(ToolFacts tool) => A(tool) / (A(tool) + B(tool));

    public static int Misses(ToolFacts tool)
    {
        int misses = 0;
        foreach (DayRun day in tool.Run)
        {
            misses += day.Sessions;
        }

        return misses;
    }

    public static void TakeUse(ToolFacts tool, int sessions)
    {
        double used = 1;
        if (sessions > 1)
        {
            double share = Mean(tool);
            used = sessions * share / (1 - Math.Pow(1 - share, sessions));
        }

        Learn(tool, used, Misses(tool) + sessions - used);
        tool.Run = [];
    }

    public static void TakeMiss(ToolFacts tool, DateOnly day, int sessions)
    {
        DayRun[] run = tool.Run;
        if (run.Length > 0 && run[^1].Day == day)
        {
            tool.Run = [.. run[..^1], new DayRun(day, run[^1].Sessions + sessions)];
        }
        else if (run.Length < MostDaysKept)
        {
            tool.Run = [.. run, new DayRun(day, sessions)];
        }
        else
        {
            // Two days told as one weigh less as evidence, so that nothing is overstated.
            tool.Run = [new DayRun(run[1].Day, run[0].Sessions + run[1].Sessions), .. run[2..], new DayRun(day, sessions)];
        }
    }

    /// <summary>A person found out how the tool is: the run ends, and counts as learned when the tool was fine.</summary>
    public static void TakeFinding(ToolFacts tool, bool wasFine)
    {
        if (wasFine)
        {
            Learn(tool, 0, Misses(tool));
        }

        tool.Run = [];
    }

    private static void Learn(ToolFacts tool, double used, double passedOver)
    {
        double fade = Math.Pow(Fading, used + passedOver);
        tool.Used = (tool.Used * fade) + used;
        tool.PassedOver = (tool.PassedOver * fade) + passedOver;
    }
}
