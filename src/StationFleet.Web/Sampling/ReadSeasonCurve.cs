using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>A season's curve of one organism in one water: by month, with intervals, and what may be said of it.</summary>
public sealed class ReadSeasonCurve(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    public const string Load = "load";

    /// <param name="Value">Organisms in a litre, or in the month's water, with its interval, in words.</param>
    public sealed record Month(string Name, int Periods, int Count, double ExaminedLitres, string Value, bool CanBeHighest);

    /// <param name="Sentence">What the months say.</param>
    /// <param name="Total">What the season's water held.</param>
    /// <param name="TotalLabels">What must be said beside that.</param>
    /// <param name="Public">What the public may be told; null when nothing.</param>
    /// <param name="WhyNot">Why not, and what more sampling would allow; empty when it may.</param>
    /// <param name="Chart">The picture's options; null without a sample.</param>
    public sealed record View(
        int Year, IReadOnlyList<int> Years, string Water, IReadOnlyList<string> Waters, string Kind, IReadOnlyList<string> Kinds, bool ByLoad,
        string Sentence, string Total, IReadOnlyList<string> TotalLabels, string? Public, string WhyNot, IReadOnlyList<Month> Months, string? Chart);

    /// <summary>What the page was asked for; null parts take what is most telling.</summary>
    public sealed record Query(int? Year, string? Water, string? Kind, bool ByLoad);

    public async Task<View?> HandleAsync(Viewer viewer, Query query, CancellationToken cancel)
    {
        (DateTimeOffset now, TimeZoneInfo zone) = (clock.GetUtcNow(), options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        int thisYear = LocalCalendar.DateOf(now, zone).Year;
        DateTimeOffset? first = await db.SamplesVisibleTo(viewer).MinAsync(sample => (DateTimeOffset?)sample.TakenAt, cancel);
        int firstYear = first is { } oldest ? LocalCalendar.DateOf(oldest, zone).Year : thisYear;
        int year = query.Year is { } asked && asked >= firstYear && asked <= thisYear ? asked : thisYear;
        PlacedPeriod[] all = [.. (await ReadEstimates.PeriodsAsync(db, viewer, year, now, zone, cancel)).Where(period => period.Place is not null)];
        RemovalEstimate[] estimates = [.. SeasonEstimates.Of(all.Select(period => period.Period))];
        Dictionary<TankPeriod, string> placeOf = all.ToDictionary(period => period.Period, period => period.Place!);
        string[] waters = [.. estimates.GroupBy(estimate => placeOf[estimate.Period]).OrderByDescending(group => group.Sum(estimate => estimate.Grabs.Count)).Select(group => group.Key)];
        if (waters.Length == 0)
        {
            return null;
        }

        string water = waters.Contains(query.Water) ? query.Water! : waters[0];
        Organism[] organisms =
        [
            .. estimates.Where(estimate => placeOf[estimate.Period] == water).GroupBy(estimate => estimate.Organism)
                .OrderByDescending(group => group.Sum(estimate => estimate.Grabs.Count)).Select(group => group.Key),
        ];
        Organism organism = organisms.FirstOrDefault(one => NameOf(one) == query.Kind, organisms[0]);
        TankPeriod[] periods = [.. all.Where(period => period.Place == water).Select(period => period.Period)];
        MonthRanking ranking = MonthRanking.Of(organism, query.ByLoad ? MonthMeasure.Load : MonthMeasure.Concentration, periods);
        SeasonTotal total = SeasonTotal.Of(organism, periods, estimates.Where(estimate => placeOf[estimate.Period] == water));
        bool isReleased = await IsReleasedAsync(db, organism, water, year, cancel);
        string? sentence = isReleased ? MonthWords.ForThePublic(ranking) : null;
        return new View(
            year, [.. Enumerable.Range(firstYear, thisYear - firstYear + 1).Reverse()], water, waters, NameOf(organism), [.. organisms.Select(NameOf)], query.ByLoad,
            MonthWords.Sentence(ranking), SeasonTotalWords.Sentence(total, options.Value.Units), [.. total.Labels.Select(label => SeasonTotalWords.Label(label, total))],
            sentence,
            sentence is not null ? "" : isReleased ? MonthWords.ToTellMore(ranking) ?? "" : "It is not known from this water, or was not released: nothing of it may be told.",
            [.. ranking.Months.Select(Of)],
            MonthChart.Of(ranking));
    }

    private static string NameOf(Organism organism) => organism.LifeStage is { } stage ? $"{organism.Taxon}, {stage}" : organism.Taxon;

    private static async Task<bool> IsReleasedAsync(FleetDbContext db, Organism organism, string water, int year, CancellationToken cancel)
    {
        ReleasedOrganisms released = await ReleasedOrganisms.ReadAsync(db, cancel);
        List<TaxonId> taxa = await db.Taxa.Where(taxon => taxon.Name == organism.Taxon).Select(taxon => taxon.Id).ToListAsync(cancel);
        return taxa.Exists(taxon => released.MayTellPresence(taxon, water, new DateOnly(year, 12, 31)));
    }

    private static Month Of(MonthResult month) => new(
        SeasonTotalWords.Months([month.Month]), month.SampledPeriods, month.Count, month.ExaminedLitres,
        month.Value is { } value ? $"{Number(value.Value)} ({Number(value.Low)} to {Number(value.High)})" : "no sample", month.CanBeHighest);

    private static string Number(double value) => Domain.Quantities.NumberWords.Significant(value, 2);
}
