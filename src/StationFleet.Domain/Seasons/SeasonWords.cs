using System.Globalization;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Seasons;

/// <summary>What pages and exports say of a season in sentences.</summary>
public static class SeasonWords
{
    /// <summary>The season's main figures in one sentence.</summary>
    /// <param name="summary">The season.</param>
    /// <param name="units">The reader's units.</param>
    public static string Headline(SeasonSummary summary, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(summary);
        SeasonFigures fleet = summary.Fleet;
        if (fleet.RequiredHours <= 0)
        {
            return summary.Season.IsRange ? "No station was in service in these days." : $"No station was in service in the season {summary.Season.Year}.";
        }

        string soFar = summary.IsRunning ? " so far" : "";
        string who = summary.Stations.Count == 1 ? summary.Stations[0].Code : "The stations";
        string verb = summary.Stations.Count == 1 ? "was" : "were";
        return $"{who} {verb} available {Percent(fleet.Availability.Share)} of the time{soFar}; "
            + $"{Number(fleet.Uses)} tool {(Math.Round(fleet.Uses) == 1 ? "use" : "uses")}, "
            + $"{Number(Units.VolumeFor(fleet.LitresPumpedOut, units))} {Units.VolumeUnit(units)} pumped out.";
    }

    /// <summary>What stands behind the headline: how complete the data are, and how the tickets went.</summary>
    /// <param name="summary">The season.</param>
    public static string Backing(SeasonSummary summary)
    {
        ArgumentNullException.ThrowIfNull(summary);
        SeasonFigures fleet = summary.Fleet;
        string coverage = $"The data cover {Percent(fleet.ReportingCoverage)} of {Number(fleet.DaysInService)} station days in service";
        string uncertain = fleet.UsesOnUncertainDay > 0
            ? $"; {Number(fleet.UsesOnUncertainDay)} uses stand on an uncertain day"
            : "";
        string median = fleet.MedianTimeToClose is { } time ? $", half of these within {Duration(time)}" : "";
        string tickets = fleet.TicketsRaised + fleet.TicketsClosed + fleet.TicketsOpen == 0
            ? "No ticket was raised."
            : $"{Tickets(fleet.TicketsRaised)} raised, {fleet.TicketsClosed} closed{median}; {fleet.TicketsOpen} "
                + $"{(fleet.TicketsOpen == 1 ? "is" : "are")} still open.";
        return $"{coverage}{uncertain}. {tickets}";
    }

    /// <summary>A figure as people read it, without its unit except for %; a dash when it is not known.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="units">The reader's units.</param>
    public static string Value(FigureValue figure, UnitSystem units) => (figure.Value, figure.Definition.Unit) switch
    {
        (null, _) => "–",
        ({ } value, FigureUnit.Count) => Number(value),
        ({ } value, FigureUnit.Share) => Percent(value),
        ({ } value, FigureUnit.Volume) => Number(Units.VolumeFor(value, units)),
        ({ } value, FigureUnit.Money or FigureUnit.Ratio) => value.ToString("#,##0.00", CultureInfo.InvariantCulture),
        ({ } value, _) => value.ToString("#,##0.0", CultureInfo.InvariantCulture),
    };

    /// <summary>A season's name and days: «Season 2026, 1 May to 15 October»; of a range its days: «1 October 2025 to 30 June 2026».</summary>
    /// <param name="season">The season.</param>
    public static string Title(Season season)
    {
        ArgumentNullException.ThrowIfNull(season);
        return season.IsRange
            ? $"{Dated(season.FirstDay)} to {Dated(season.LastDay)}"
            : $"Season {season.Year}, {Day(season.FirstDay)} to {Day(season.LastDay)}";
    }

    /// <summary>What a season is called beside another one: «2026, so far»; days that a person named are «these days».</summary>
    /// <param name="summary">The season.</param>
    public static string Named(SeasonSummary summary)
    {
        ArgumentNullException.ThrowIfNull(summary);
        return summary.Season.IsRange ? "These days"
            : string.Create(CultureInfo.InvariantCulture, $"{summary.Season.Year}{(summary.IsRunning ? ", so far" : "")}");
    }

    /// <summary>What the year before is called beside a season.</summary>
    /// <param name="before">The same days of the year before.</param>
    public static string NamedBefore(SeasonSummary before)
    {
        ArgumentNullException.ThrowIfNull(before);
        return before.Season.IsRange ? "A year before"
            : string.Create(CultureInfo.InvariantCulture, $"{before.Season.Year}{(before.IsRunning ? ", same days" : "")}");
    }

    /// <summary>A change as a percentage with its sign; a dash when it is not known.</summary>
    /// <param name="share">The change as a share of the figure before.</param>
    public static string Change(double? share) => share is { } known ? known.ToString("+0 %;−0 %;0 %", CultureInfo.InvariantCulture) : "–";

    /// <summary>A length of time as people say it: minutes, hours or days.</summary>
    /// <param name="length">The length; not negative.</param>
    public static string Duration(TimeSpan length) => length switch
    {
        { TotalMinutes: < 90 } => string.Create(CultureInfo.InvariantCulture, $"{length.TotalMinutes:0} min"),
        { TotalHours: < 48 } => string.Create(CultureInfo.InvariantCulture, $"{length.TotalHours:0.#} h"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{length.TotalDays:0.#} d"),
    };

    /// <summary>A share as a percentage with one decimal; a dash when it is not known. Never rounds up to 100 %.</summary>
    /// <param name="share">0 to 1.</param>
    public static string Percent(double? share) => share is { } known
        ? string.Create(CultureInfo.InvariantCulture, $"{(known < 1 ? Math.Min(99.9, known * 100) : 100):0.0} %")
        : "–";

    private static string Tickets(int count) => count == 1 ? "One ticket was" : $"{count} tickets were";

    private static string Day(DateOnly day) => day.ToString("d MMMM", CultureInfo.InvariantCulture);

    private static string Dated(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("#,##0", CultureInfo.InvariantCulture);
}
