using System.Globalization;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Known days as sentences and tables write them.</summary>
internal static class KnownDaysTexts
{
    /// <summary>«twice the usual boats», «1.5 times the usual boats», «half the usual boats», «30 % of the usual boats».</summary>
    public static string Boats(double factor) => factor switch
    {
        2 => "twice the usual boats",
        0.5 => "half the usual boats",
        < 1 => $"{OfficeTexts.Number(factor * 100)} % of the usual boats",
        _ => $"{OfficeTexts.Number(factor)} times the usual boats",
    };

    /// <summary>«Sat 25 Jul 2026».</summary>
    public static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>What lies ahead, in a sentence.</summary>
    public static string Headline(ListKnownDays.View view)
    {
        if (view.Rows.FirstOrDefault(row => row.LastDay >= view.Today) is not { } next)
        {
            return view.Rows.Count == 0 ? "No known days yet: the watch expects the usual boats every day." : "No known days lie ahead.";
        }

        string where = next.Place is null ? "" : $" at {next.Place}";
        return next.FirstDay <= view.Today
            ? $"{next.Name} is on{where}, until {Day(next.LastDay)}: {Boats(next.Factor)}."
            : $"{next.Name}{where} is next, from {Day(next.FirstDay)}: {Boats(next.Factor)}.";
    }
}
