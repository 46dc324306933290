namespace StationFleet.Web.Watch;

/// <summary>Lines in a trial's picture: what belongs to the new limits, and what to today's.</summary>
internal static class TrialMarks
{
    /// <summary>A level line for each limit, or one for both.</summary>
    public static IReadOnlyList<object> Limits(double today, double other) => today == other
        ? [Level(today, "limit", isNew: false)]
        : [Level(today, "today's limit", isNew: false), Level(other, "new limit", isNew: true)];

    /// <summary>An upright line for each instant of raising.</summary>
    public static IReadOnlyList<object> Raised(TrialPicture.Query query, Func<DateTimeOffset, string> on)
    {
        List<object> lines = [];
        if (query.Today is { } today)
        {
            lines.Add(Upright(on(today), "raised, today's", isNew: false));
        }

        if (query.New is { } raised)
        {
            lines.Add(Upright(on(raised), "raised, new", isNew: true));
        }

        return lines;
    }

    public static object Of(IReadOnlyList<object> lines) => new { silent = true, symbol = "none", data = lines };

    private static object Level(double value, string says, bool isNew) => new
    {
        yAxis = value, lineStyle = new { color = Colour(isNew), type = "dashed" }, label = new { formatter = says, color = Colour(isNew), position = isNew ? "insideStartTop" : "insideEndTop" },
    };

    // Two lines that stand close together have their words one above the other.
    private static object Upright(string at, string says, bool isNew) => new
    {
        xAxis = at,
        lineStyle = new { color = Colour(isNew), type = "solid", width = 1.5 },
        label = new { formatter = says, color = Colour(isNew), position = "end", padding = isNew ? new[] { 0, 0, 0, 0 } : [0, 0, 14, 0] },
    };

    private static string Colour(bool isNew) => isNew ? "var(--pine)" : "var(--visit)";
}
