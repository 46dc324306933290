namespace StationFleet.Domain.Watch;

/// <summary>A use session that may not be over.</summary>
/// <param name="From">The reading that first showed it.</param>
/// <param name="LastUse">The newest reading that showed a use.</param>
/// <param name="Uses">Uses of all tools so far.</param>
/// <param name="Tools">The names of the totals that rose, in order.</param>
public sealed record OpenSession(DateTimeOffset From, DateTimeOffset LastUse, double Uses, IReadOnlyList<string> Tools);

/// <summary>
/// Tells use sessions from running totals. A boat's crew presses buttons many times and takes several tools; the session, not the
/// use, is what a healthy tool is picked up by or not.
/// </summary>
/// <remarks>
/// From readings at most ten minutes apart: a session is a run of uses of any tool, over after ten minutes without one or twenty
/// in all. From readings further apart: their uses are as many sessions as the mean uses of a session go into them, at least one.
/// </remarks>
internal static class UseSessions
{
    /// <summary>Readings further apart than this are counted as a lump.</summary>
    public static readonly TimeSpan FineUpTo = TimeSpan.FromMinutes(10);

    private static readonly TimeSpan OverAfter = TimeSpan.FromMinutes(10);
    private const double MostAnHour = 4;
    private static readonly TimeSpan LongestSession = TimeSpan.FromMinutes(20);

    /// <summary>Takes the uses that one instant's readings show.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="at">The instant.</param>
    /// <param name="gains">The totals that rose, by how much; may be empty.</param>
    /// <param name="width">The longest of the intervals in which they rose.</param>
    /// <param name="context">The station.</param>
    public static void Take(StationFacts facts, DateTimeOffset at, List<(string Name, double Uses)> gains, TimeSpan width, FactsContext context)
    {
        double uses = gains.Sum(gain => gain.Uses);
        if (uses <= 0)
        {
            if (facts.Session is { } idle && at - idle.LastUse >= OverAfter)
            {
                End(facts, context);
            }

            return;
        }

        string[] tools = [.. gains.Select(gain => gain.Name)];
        if (width > FineUpTo)
        {
            End(facts, context);
            Count(facts, at, InLump(facts, uses, at - width, at, context), tools, context);
            return;
        }

        if (facts.Session is { } open && at - open.LastUse <= OverAfter && at - open.From < LongestSession)
        {
            facts.Session = new OpenSession(open.From, at, open.Uses + uses, [.. open.Tools.Union(tools, StringComparer.Ordinal)]);
            return;
        }

        End(facts, context);
        facts.Session = new OpenSession(at, at, uses, tools);
    }

    /// <summary>Ends the open session, if there is one.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    public static void End(StationFacts facts, FactsContext context)
    {
        if (facts.Session is { } session)
        {
            facts.Session = null;
            facts.Sessions.TakeUses(session.Uses);
            Count(facts, session.LastUse, 1, session.Tools, context);
        }
    }

    // More than could have come in that time is no session count but a fault of the total.
    private static int InLump(StationFacts facts, double uses, DateTimeOffset from, DateTimeOffset at, FactsContext context)
    {
        double most = facts.Sessions.KnownDays >= 10
            ? Math.Max(3, 4 * facts.Sessions.Expected(from, at, context))
            : Math.Max(3, MostAnHour * (at - from).TotalHours);
        return (int)Math.Clamp(Math.Round(uses / facts.Sessions.UsesEach), 1, Math.Min(200, most));
    }

    private static void Count(StationFacts facts, DateTimeOffset at, int sessions, IReadOnlyList<string> tools, FactsContext context)
    {
        DateOnly day = context.DayOf(at).Date;
        facts.Sessions.TakeSessions(at, sessions, context);
        foreach ((string name, ToolFacts tool) in facts.Tools)
        {
            if (tools.Contains(name))
            {
                ToolShare.TakeUse(tool, sessions);
                FallingUse.Take(tool, sessions, wasUsed: true);
            }
            else if (tool.Last is { } last && last.At >= at && !RunawayCounter.IsOn(tool, at))
            {
                // A total that was not read, or counts by itself, says nothing about its tool.
                ToolShare.TakeMiss(tool, day, sessions);
                FallingUse.Take(tool, sessions, wasUsed: false);
            }
        }
    }
}
