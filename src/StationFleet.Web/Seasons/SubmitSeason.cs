using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Primitives;
using StationFleet.Domain.Seasons;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Grants;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Seasons;

/// <summary>
/// Freezes a summary as it is handed in, and says later what changed since: late data, corrected setups, tickets closed with an
/// earlier time.
/// </summary>
public sealed class SubmitSeason(
    IDbContextFactory<FleetDbContext> databases, SummariseSeason summarise, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <summary>One frozen figure.</summary>
    /// <param name="Station">A station's code, or «All stations».</param>
    /// <param name="Key">The figure's key.</param>
    /// <param name="Value">Its value in its unit, volumes in litres; null when it was not known.</param>
    public sealed record Frozen(string Station, string Key, double? Value);

    public sealed record Row(int Id, string Title, string When, string By);

    /// <param name="Was">What was handed in, in words.</param>
    /// <param name="Is">What it is now, in words.</param>
    public sealed record Changed(string Station, string Figure, string Was, string Is);

    /// <param name="Figures">What was handed in: a row of figure, unit and value for each.</param>
    /// <param name="Changes">What changed since; null when the figures cannot be made any more.</param>
    public sealed record View(
        string Title, string When, string By, string Address, IReadOnlyList<(string Station, string Figure, string Value)> Figures, IReadOnlyList<Changed>? Changes);

    private const string All = "All stations";

    /// <returns>The frozen copy's number; null when the person may not, or there is nothing to freeze.</returns>
    public async Task<int?> HandleAsync(Viewer viewer, SummariseSeason.Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        if (!viewer.MayKeepBooks()
            || await summarise.HandleAsync(viewer, query, cancel) is not SummariseSeason.Outcome.Summarised { Report: { } report })
        {
            return null;
        }

        SubmittedSummary row = new()
        {
            Title = report.Title,

            // The year is named: «the newest» is another one next spring.
            Query = (query with { Year = report.Summary.Season.Year }).Address,
            At = clock.GetUtcNow(),
            By = viewer.Name,
            Figures = JsonSerializer.Serialize(FiguresOf(report)),
        };
        return await databases.WriteAsync(
            async db =>
            {
                db.Add(row);
                await db.SaveChangesAsync(cancel);
                return (int?)row.Id;
            },
            cancel);
    }

    public async Task<IReadOnlyList<Row>> ListAsync(Viewer viewer, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks() || viewer.Agency is not null)
        {
            return [];
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return
        [
            .. (await db.SubmittedSummaries.AsNoTracking().OrderByDescending(row => row.Id).Select(row => new { row.Id, row.Title, row.At, row.By }).ToListAsync(cancel))
                .Select(row => new Row(row.Id, row.Title, LocalTimes.Say(row.At, options.Value.Zone), row.By)),
        ];
    }

    public async Task<View?> ReadAsync(Viewer viewer, int id, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        if (!viewer.MayKeepBooks() || viewer.Agency is not null
            || await db.SubmittedSummaries.AsNoTracking().SingleOrDefaultAsync(each => each.Id == id, cancel) is not { } row)
        {
            return null;
        }

        Frozen[] frozen = JsonSerializer.Deserialize<Frozen[]>(row.Figures)!;
        return new View(
            row.Title, LocalTimes.Say(row.At, options.Value.Zone), row.By, $"/season{row.Query}",
            [.. frozen.Select(figure => (figure.Station, NameOf(figure.Key), Say(figure.Key, figure.Value)))],
            await summarise.HandleAsync(viewer, Parse(row.Query), cancel) is SummariseSeason.Outcome.Summarised { Report: { } now } ? Changes(frozen, FiguresOf(now)) : null);
    }

    private List<Changed> Changes(IReadOnlyCollection<Frozen> then, IReadOnlyCollection<Frozen> now)
    {
        Dictionary<(string, string), double?> known = now.ToDictionary(figure => (figure.Station, figure.Key), figure => figure.Value);
        return
        [
            .. then.Select(was => (was, Is: known.GetValueOrDefault((was.Station, was.Key))))
                .Where(pair => pair.was.Value is null != pair.Is is null || Math.Abs((pair.was.Value ?? 0) - (pair.Is ?? 0)) > 1e-6)
                .Select(pair => new Changed(pair.was.Station, NameOf(pair.was.Key), Say(pair.was.Key, pair.was.Value), Say(pair.was.Key, pair.Is))),

            // What samples say now and nobody had counted then.
            .. now.Where(figure => figure.Key.Contains(':', StringComparison.Ordinal) && figure.Value is not null && !then.Any(was => (was.Station, was.Key) == (figure.Station, figure.Key)))
                .Select(figure => new Changed(figure.Station, NameOf(figure.Key), Say(figure.Key, null), Say(figure.Key, figure.Value))),
        ];
    }

    // A removal figure is a water's, and the organism stands in its key.
    private static Frozen[] FiguresOf(SeasonReport report) =>
    [
        .. report.Summary.Stations.SelectMany(station => station.Figures.Listed, (station, figure) => new Frozen(station.Code, figure.Definition.Key, figure.Value)),
        .. report.Summary.Fleet.Listed.Select(figure => new Frozen(All, figure.Definition.Key, figure.Value)),
        .. report.Removals.SelectMany(removal => new Frozen[]
        {
            new($"{removal.Water}, {removal.Year}", $"{SeasonDefinitions.OrganismsRemoved.Key}: {removal.Name}", removal.Total.Estimate?.Value),
            new($"{removal.Water}, {removal.Year}", $"{SeasonDefinitions.ShareSampled.Key}: {removal.Name}", removal.ShareSampled),
        }),
    ];

    private static SummariseSeason.Query Parse(string address)
    {
        Dictionary<string, StringValues> parts = QueryHelpers.ParseQuery(address);
        return new SummariseSeason.Query(
            int.TryParse(Of("year"), out int year) ? year : null, Of("station"), Day("from"), Day("to"), Of("award"), Of("owner"), Of("access"));

        string? Of(string name) => parts.GetValueOrDefault(name).FirstOrDefault();

        DateOnly? Day(string name) => DateOnly.TryParseExact(Of(name), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day : null;
    }

    private static string NameOf(string key) => DefinitionOf(key) is { } definition ? definition.Name + key[definition.Key.Length..] : key;

    private static FigureDefinition? DefinitionOf(string key) =>
        SeasonDefinitions.All.Concat(SeasonDefinitions.OfSamples).FirstOrDefault(figure => figure.Key == key.Split(':')[0]);

    private string Say(string key, double? value) => DefinitionOf(key) is { } definition
        ? $"{SeasonWords.Value(new FigureValue(definition, value), options.Value.Units)}{(definition.Unit == FigureUnit.Share ? "" : $" {definition.UnitName(options.Value.Units)}")}".Trim()
        : value?.ToString(CultureInfo.InvariantCulture) ?? "–";
}
