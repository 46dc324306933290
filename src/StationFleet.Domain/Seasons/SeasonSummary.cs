using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Seasons;

/// <summary>What a season came to.</summary>
/// <param name="Season">The season.</param>
/// <param name="AsOf">Nothing from this instant on was counted.</param>
/// <param name="Stations">Each station's part, by code.</param>
/// <param name="Fleet">All stations together.</param>
/// <param name="Weeks">Uses by week, of all stations; Monday to Sunday, without gaps.</param>
public sealed record SeasonSummary(
    Season Season, DateTimeOffset AsOf, IReadOnlyList<StationSeason> Stations, SeasonFigures Fleet, IReadOnlyList<WeekUses> Weeks)
{
    /// <summary>Whether the season went on when it was counted.</summary>
    public bool IsRunning => Stations.Any(station => station.IsRunning);

    /// <summary>Makes every figure of a season.</summary>
    /// <param name="input">What is known of it.</param>
    public static SeasonSummary Of(SeasonInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        StationSeason[] stations =
        [
            .. input.Stations.OrderBy(station => station.Setup.Code, StringComparer.Ordinal)
                .Select(station => StationSeason.Of(station, input.Season, input.AsOf)),
        ];
        return new SeasonSummary(
            input.Season, input.AsOf, stations, Together(stations, input.SharedCost), WeekUses.Of(input.Stations, input.Season));
    }

    private static SeasonFigures Together(IReadOnlyList<StationSeason> stations, Money? sharedCost)
    {
        SeasonFigures[] each = [.. stations.Select(station => station.Figures)];
        return new SeasonFigures
        {
            HoursWithData = each.Sum(figures => figures.HoursWithData),
            Uses = each.Sum(figures => figures.Uses),
            UsesOnUncertainDay = each.Sum(figures => figures.UsesOnUncertainDay),
            Restarts = each.Sum(figures => figures.Restarts),
            UseSessions = each.Sum(figures => figures.UseSessions),
            LitresTakenIn = each.Sum(figures => figures.LitresTakenIn),
            Visits = each.Sum(figures => figures.Visits),
            VisitTime = TimeSpan.FromTicks(each.Sum(figures => figures.VisitTime.Ticks)),
            VisitTimePaid = TimeSpan.FromTicks(each.Sum(figures => figures.VisitTimePaid.Ticks)),
            VisitTimeMatch = TimeSpan.FromTicks(each.Sum(figures => figures.VisitTimeMatch.Ticks)),
            VisitTimeVolunteer = TimeSpan.FromTicks(each.Sum(figures => figures.VisitTimeVolunteer.Ticks)),
            Cost = each.Select(figures => figures.Cost).Append(sharedCost).OfType<Money>().ToArray() is { Length: > 0 } costs ? Money.Sum(costs) : null,
            Boats = BoatCounts.Together(each.Select(figures => figures.Boats)),
            PumpOuts = each.Sum(figures => figures.PumpOuts),
            LitresPumpedOut = each.Sum(figures => figures.LitresPumpedOut),
            LitresPumpedOutUncertainty = Sums.Known(each.Select(figures => figures.LitresPumpedOutUncertainty)),
            LitresInTank = Sums.Known(each.Select(figures => figures.LitresInTank)),
            TicketsRaised = each.Sum(figures => figures.TicketsRaised),
            TicketsClosed = each.Sum(figures => figures.TicketsClosed),
            TicketsOpen = each.Sum(figures => figures.TicketsOpen),
            MedianTimeToClose = Medians.Of(stations.SelectMany(station => station.Tickets).Select(t => t.TimeToClose).OfType<TimeSpan>()),
            Availability = Availability.Together(each.Select(figures => figures.Availability)),
        };
    }
}

/// <summary>A tool's uses in one month.</summary>
/// <param name="Tool">The tool's slug.</param>
/// <param name="Name">The name the agency gave it; the slug when it gave none.</param>
/// <param name="Kind">What it is for.</param>
/// <param name="Month">The month's first day.</param>
/// <param name="Uses">All uses on the month's days of the season.</param>
/// <param name="OnUncertainDay">Of these, the ones counted over several days and put on the last of them.</param>
/// <param name="Restarts">Times that the counter restarted, so that uses may be missing.</param>
public sealed record ToolMonth(
    string Tool, string Name, ToolKind Kind, DateOnly Month, double Uses, double OnUncertainDay, int Restarts);

/// <summary>A ticket that was raised or closed in the season, or open at its end.</summary>
/// <param name="Number">The number that people say.</param>
/// <param name="Rule">The rule that raised it.</param>
/// <param name="Part">The tool's name, or empty.</param>
/// <param name="Raised">When it was raised.</param>
/// <param name="Done">When the work was done; null while open.</param>
/// <param name="Outcome">How it ended; null while open.</param>
/// <param name="Down">Required time of the season that its station was down because of it.</param>
public sealed record TicketLine(
    int Number, Rule Rule, string Part, DateTimeOffset Raised, DateTimeOffset? Done, TicketOutcome? Outcome, TimeSpan Down)
{
    /// <summary>From raised until done; null while open.</summary>
    public TimeSpan? TimeToClose => Done - Raised;
}

/// <summary>Uses of all tools in one week.</summary>
/// <param name="Monday">The week's first day.</param>
/// <param name="Uses">The uses; null when no day of the week has data.</param>
/// <param name="ByKind">The same uses by kind of tool; empty without data.</param>
public sealed record WeekUses(DateOnly Monday, double? Uses, IReadOnlyDictionary<ToolKind, double> ByKind)
{
    internal static IReadOnlyList<WeekUses> Of(IEnumerable<SeasonStation> stations, Season season)
    {
        Dictionary<DateOnly, Dictionary<ToolKind, double>> sums = stations
            .SelectMany(station => station.Uses.Where(uses => season.Contains(uses.Day)), (station, uses) => (
                Week: MondayOf(uses.Day), Kind: station.Setup.Tools.LastOrDefault(tool => tool.Slug == uses.Tool)?.Kind ?? ToolKind.Other, uses.Total))
            .GroupBy(uses => uses.Week)
            .ToDictionary(week => week.Key, week => week.GroupBy(uses => uses.Kind).OrderBy(kind => kind.Key)
                .ToDictionary(kind => kind.Key, kind => kind.Sum(uses => uses.Total)));
        if (sums.Count == 0)
        {
            return [];
        }

        int weeks = ((sums.Keys.Max().DayNumber - sums.Keys.Min().DayNumber) / 7) + 1;
        return
        [
            .. Enumerable.Range(0, weeks).Select(week => sums.Keys.Min().AddDays(7 * week))
                .Select(monday => sums.TryGetValue(monday, out Dictionary<ToolKind, double>? kinds)
                    ? new WeekUses(monday, kinds.Values.Sum(), kinds)
                    : new WeekUses(monday, null, new Dictionary<ToolKind, double>())),
        ];
    }

    private static DateOnly MondayOf(DateOnly day) => day.AddDays(-(((int)day.DayOfWeek + 6) % 7));
}

internal static class Sums
{
    /// <summary>The sum of those that are known; null of none.</summary>
    public static double? Known(IEnumerable<double?> values)
    {
        double[] known = [.. values.OfType<double>()];
        return known.Length > 0 ? known.Sum() : null;
    }
}

internal static class Medians
{
    /// <summary>The middle one, or the mean of the two in the middle; null of none.</summary>
    public static TimeSpan? Of(IEnumerable<TimeSpan> lengths)
    {
        TimeSpan[] sorted = [.. lengths.Order()];
        int middle = sorted.Length / 2;
        return sorted.Length == 0 ? null : sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
