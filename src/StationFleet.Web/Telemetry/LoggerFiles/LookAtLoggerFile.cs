using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Telemetry.LoggerFiles;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>Looks at a file that was handed in: how it seems to be laid out, its first rows as read, and what an import would do.</summary>
public sealed class LookAtLoggerFile(
    IDbContextFactory<FleetDbContext> databases,
    MeasurementReader measurements,
    LoggerFileImporter importer,
    FleetClock clock,
    IOptions<FleetOptions> options)
{
    private const int RowsShown = 12;

    /// <summary>A file and how it seems to be laid out.</summary>
    /// <param name="Station">Whose it is.</param>
    /// <param name="Context">What reading its lines needs to know of the station.</param>
    /// <param name="Zone">The zone of the place where the station stands.</param>
    /// <param name="Layout">The layout; null when no line holds a time and a number.</param>
    /// <param name="IsRemembered">The last file of this station with the same headings was read so.</param>
    /// <param name="Headings">The columns.</param>
    /// <param name="Sample">The first line's cells, to tell the columns by.</param>
    /// <param name="FirstLines">The file's first lines as they are.</param>
    /// <param name="Names">Names that are offered for columns.</param>
    public sealed record View(
        StationId Station,
        StationContext Context,
        TimeZoneInfo Zone,
        LoggerFileLayout? Layout,
        bool IsRemembered,
        IReadOnlyList<string> Headings,
        IReadOnlyList<string> Sample,
        IReadOnlyList<string> FirstLines,
        IReadOnlyList<string> Names);

    /// <returns>Null when the person may not import, or not for this station.</returns>
    public async Task<View?> HandleAsync(Viewer viewer, StationId station, string path, char? delimiter, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Station? row = await db.Stations.AsNoTracking().VisibleTo(viewer).SingleOrDefaultAsync(candidate => candidate.Id == station, cancel);
        if (row is null || !viewer.MayImport())
        {
            return null;
        }

        IReadOnlyList<string> names = await measurements.NamesAsync(station, cancel);
        string[] tools = await db.Tools.Where(tool => tool.StationId == station).Select(tool => MeasurementName.Uses(tool.Slug)).ToArrayAsync(cancel);
        TimeZoneInfo zone = await StationZones.OfAsync(db, station, clock.GetUtcNow(), options.Value, cancel);
        IReadOnlyList<string> lines = LoggerFileText.FirstLines(path);
        LayoutGuess guess = LayoutGuess.Of(lines, zone.Id, [.. names.Union(tools)], delimiter);
        LoggerFileLayout? remembered = delimiter is null && guess.Layout is not null ? await RememberedAsync(db, station, guess.Headings, cancel) : null;
        LoggerFileLayout? layout = remembered ?? guess.Layout;
        return new View(
            station,
            new StationContext(row.Code, row.Created, row.HasNoClock),
            zone,
            layout,
            remembered is not null,
            guess.Headings,
            layout is null ? [] : SampleOf(lines, layout),
            [.. lines.Take(RowsShown)],
            [.. names.Union(tools).Union(MeasurementTable.All.Select(known => known.Pattern).Where(name => !name.Contains('{', StringComparison.Ordinal))).Order(StringComparer.Ordinal)]);
    }

    /// <summary>The first rows as a layout reads them.</summary>
    public static IReadOnlyList<LoggerLine> Preview(string path, LoggerFileLayout layout)
    {
        using StreamReader file = LoggerFileText.Open(path);
        return [.. LoggerFileReader.Read(file, layout).Take(RowsShown)];
    }

    /// <summary>What an import of the whole file would do.</summary>
    public Task<LoggerFileSurvey> SurveyAsync(View view, string path, LoggerFileLayout layout, IProgress<double> progress, CancellationToken cancel) =>
        importer.SurveyAsync(new LoggerFile(path, layout, view.Station, view.Context, clock.GetUtcNow()), progress, cancel);

    private static IReadOnlyList<string> SampleOf(IReadOnlyList<string> lines, LoggerFileLayout layout) => lines
        .Skip(layout.LinesBefore + (layout.HasHeader ? 1 : 0)).Select(line => CsvLine.Split(line, layout.Delimiter)).OfType<IReadOnlyList<string>>().FirstOrDefault() ?? [];

    private static async Task<LoggerFileLayout?> RememberedAsync(
        FleetDbContext db, StationId station, IReadOnlyList<string> headings, CancellationToken cancel)
    {
        string same = string.Join('\n', headings);
        LoggerFileImport? last = await db.LoggerFileImports.AsNoTracking()
            .Where(import => import.StationId == station && import.Headings == same && import.End == ImportEnd.Done)
            .OrderByDescending(import => import.At).FirstOrDefaultAsync(cancel);
        return last?.ReadLayout();
    }
}
