using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>One award: its reports, its match, and its indicators with what the stations' figures came to in the days asked for.</summary>
public sealed class ReadAward(
    IDbContextFactory<FleetDbContext> databases, SeasonReader seasons, FleetClock clock, IOptions<FleetOptions> options, IOptions<GrantOptions> grants)
{
    /// <param name="From">The first day counted; null takes the award's first.</param>
    /// <param name="To">The last day counted; null takes the award's last, or today.</param>
    public sealed record Query(AwardId Id, DateOnly? From = null, DateOnly? To = null);

    public sealed record Report(string What, DateOnly PeriodEnd, bool IsFinal, string Due, bool IsLate, string? HandedIn, DateOnly? HandedInDay, DateOnly? NamedDue);

    public sealed record Indicator(int Id, string? Figure, IndicatorLine Line);

    /// <param name="Shared">Says which stations' figures other awards count too; empty when none.</param>
    public sealed record View(
        SaveAward.Command Form,
        IReadOnlyList<(string Name, string Value)> Facts,
        IReadOnlyList<Report> Reports,
        IReadOnlyList<Indicator> Indicators,
        DateOnly From,
        DateOnly To,
        string Sentence,
        string Shared,
        IReadOnlyList<ReadAwards.Terms> TermsSets,
        bool MayChange);

    public async Task<View?> HandleAsync(Viewer viewer, Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        DateTimeOffset now = clock.GetUtcNow();
        DateOnly today = LocalCalendar.DateOf(now, options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        if (await db.Awards.SingleOrDefaultAsync(row => row.Id == query.Id, cancel) is not { } award)
        {
            return null;
        }

        List<AwardTermsSet> sets = await db.AwardTerms.OrderBy(set => set.Id).ToListAsync(cancel);
        AwardTerms terms = sets.Single(set => set.Id == award.TermsId).Terms;
        List<(StationId Id, string Code)> stations =
        [
            .. (await db.Stations.VisibleTo(viewer).Where(station => db.AwardStations.Any(row => row.AwardId == award.Id && row.StationId == station.Id))
                .OrderBy(station => station.Code).Select(station => new { station.Id, station.Code }).ToListAsync(cancel)).Select(row => (row.Id, row.Code)),
        ];
        (DateOnly from, DateOnly to) = Days(query, award, today);
        Dictionary<(DateOnly, bool), DateOnly?> named = await db.AwardReports.Where(report => report.AwardId == award.Id)
            .ToDictionaryAsync(report => (report.PeriodEnd, report.IsFinal), report => report.NamedDue, cancel);
        IReadOnlyList<Report> reports = [.. (await DueDateReader.ReadAsync(db, cancel)).Where(due => due.Award == award.Id)
            .Select(due => ReportOf(due, named.GetValueOrDefault((due.PeriodEnd, due.IsFinal)), today))];
        Money booked = await BookedMatch.OfAsync(db, award.Id, cancel);
        return new View(
            FormOf(award, stations.Select(station => station.Code)),
            [.. Facts(award, terms, booked, stations)],
            reports,
            await IndicatorsAsync(db, award, stations, from, to, now, cancel),
            from,
            to,
            Sentence(award, reports),
            await SharedAsync(db, award, cancel),
            [.. sets.Select(set => new ReadAwards.Terms(set.Id, set.Terms.Name))],
            viewer.MayKeepBooks() && viewer.Agency is null);
    }

    private static (DateOnly From, DateOnly To) Days(Query query, Award award, DateOnly today)
    {
        DateOnly from = query.From ?? award.Starts;
        DateOnly to = query.To ?? (award.Ends < today ? award.Ends : today);
        return to < from ? (from, from) : (from, to);
    }

    private async Task<IReadOnlyList<Indicator>> IndicatorsAsync(
        FleetDbContext db, Award award, List<(StationId Id, string Code)> stations, DateOnly from, DateOnly to, DateTimeOffset now, CancellationToken cancel)
    {
        List<AwardIndicator> rows = await db.AwardIndicators.Where(row => row.AwardId == award.Id).OrderBy(row => row.Label).ToListAsync(cancel);
        if (rows.Count == 0)
        {
            return [];
        }

        SeasonInput input = await seasons.ReadAsync([.. stations.Select(station => station.Id)], new Season(from.Year, from, to), now, cancel);
        Dictionary<string, FigureValue> figures = SeasonSummary.Of(input).Fleet.Listed.ToDictionary(figure => figure.Definition.Key);
        return
        [
            .. rows.Select(row => new Indicator(
                row.Id, row.Figure,
                row.Figure is { } key && figures.TryGetValue(key, out FigureValue figure)
                    ? IndicatorLine.Of(row.Label, row.Description, row.Target, stations.Count == 0 ? figure with { Value = null } : figure, options.Value.Units, row.Note)
                    : new IndicatorLine(row.Label, row.Description, row.Target, row.Written, row.Unit, row.Note))),
        ];
    }

    private static async Task<string> SharedAsync(FleetDbContext db, Award award, CancellationToken cancel)
    {
        var others = await db.AwardStations.Where(row => row.AwardId != award.Id && db.AwardStations.Any(own => own.AwardId == award.Id && own.StationId == row.StationId))
            .Join(db.Stations, row => row.StationId, station => station.Id, (row, station) => new { row.AwardId, station.Code })
            .Join(db.Awards, row => row.AwardId, other => other.Id, (row, other) => new { row.Code, other.Number })
            .OrderBy(row => row.Number).ThenBy(row => row.Code).ToListAsync(cancel);
        return others.Count == 0 ? "" : "Against double counting: " + string.Join("; ", others.GroupBy(row => row.Number)
            .Select(group => $"the figures of {string.Join(", ", group.Select(row => row.Code))} stand in {group.Key} too")) + ".";
    }

    private static Report ReportOf(DueDate due, DateOnly? named, DateOnly today) => new(
        due.What, due.PeriodEnd, due.IsFinal, due.HandedIn is null ? GrantWords.Due(due.Due, today) : GrantWords.Day(due.Due), due.HandedIn is null && due.Due < today,
        due.HandedIn is { } day ? GrantWords.Day(day) : null, due.HandedIn, named);

    private static string Sentence(Award award, IReadOnlyList<Report> reports) =>
        reports.FirstOrDefault(report => report.HandedIn is null) is { } next
            ? $"{award.Number}: {char.ToLowerInvariant(next.What[0])}{next.What[1..]} {next.Due}."
            : $"{award.Number}: every report is handed in.";

    private IEnumerable<(string Name, string Value)> Facts(Award award, AwardTerms terms, Money booked, List<(StationId Id, string Code)> stations)
    {
        string sign = grants.Value.CurrencySign;
        yield return (terms.NumberName, award.Number);
        yield return ("What it is for", award.Title);
        yield return ("Funder", award.Funder + (award.IsSubrecipient ? ", through another recipient: its dates prevail" : ""));
        yield return ("Period", $"{GrantWords.Day(award.Starts)} to {GrantWords.Day(award.Ends)}");
        yield return ("Reports", award.Rhythm == ReportRhythm.FinalOnly ? "the final one only" : $"{GrantWords.Spoken(award.Rhythm).ToLowerInvariant()}, and a final one");
        yield return ("Terms", terms.Name);
        string still = booked >= award.MatchRequired ? "" : $"; {(award.MatchRequired - booked).Say(sign)} is still missing";
        yield return ("Match", $"{booked.Say(sign)} booked of {award.MatchRequired.Say(sign)} required{still}");
        yield return ("Stations", stations.Count == 0 ? "none named yet" : string.Join(", ", stations.Select(station => station.Code)));
    }

    private static SaveAward.Command FormOf(Award award, IEnumerable<string> stations) => new()
    {
        Id = award.Id,
        Number = award.Number,
        Title = award.Title,
        Funder = award.Funder,
        Starts = award.Starts.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Ends = award.Ends.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Rhythm = award.Rhythm.ToString(),
        Terms = award.TermsId.ToString(CultureInfo.InvariantCulture),
        IsFederal = award.IsFederal,
        IsSubrecipient = award.IsSubrecipient,
        MatchRequired = TypedMoney.ForField(award.MatchRequired),
        Stations = string.Join(", ", stations),
    };
}
