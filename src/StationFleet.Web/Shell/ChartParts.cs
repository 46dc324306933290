using System.Globalization;

namespace StationFleet.Web.Shell;

/// <summary>What the pictures have in common: the parts of their options.</summary>
internal static class ChartParts
{
    public static CultureInfo English => CultureInfo.GetCultureInfo("en-US");

    // The axis shows the access's clock: instants go out as local times without a zone.
    public static string Local(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture);

    public static object Grid(int right = 16, int top = 34) => new { left = 44, right, top, bottom = 28 };

    /// <param name="names">The series that it names; all of them without any.</param>
    public static object Legend(params string[] names) => new
    {
        top = 0, left = 0, itemWidth = 12, itemHeight = 12, icon = "roundRect", textStyle = new { color = "var(--ink)" }, data = names.Length > 0 ? names : null,
    };

    public static object Line() => new { lineStyle = new { color = "var(--rule)" } };

    /// <param name="max">Where it ends, as <see cref="Local"/> writes it; null ends it with the data.</param>
    public static object TimeAxis(string? max = null) => new
    {
        type = "time",
        max,
        axisLine = Line(),
        axisLabel = new { formatter = new { year = "{yyyy}", month = "{d} {MMM}", day = "{d} {MMM}", hour = "{HH}:{mm}" }, hideOverlap = true, color = "var(--ink-2)" },
        splitLine = new { show = false },
    };

    public static object ValueAxis(string? name = null, double? max = null, double? interval = null, bool fromZero = true) => new
    {
        type = "value",
        name,
        nameTextStyle = new { color = "var(--ink-2)", align = "left" },
        nameGap = 10,
        min = fromZero ? 0 : (double?)null,
        max,
        interval,
        splitNumber = 4,
        axisLabel = new { color = "var(--ink-2)" },
        splitLine = new { lineStyle = new { color = "var(--rule-2)" } },
    };
}
