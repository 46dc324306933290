using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Web.Accounts;
using StationFleet.Web.Grants;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Seasons;

/// <summary>The rows behind one figure of a season: what was recorded on these days of these stations.</summary>
public sealed class ReadSeasonRows(
    IDbContextFactory<FleetDbContext> databases, SummariseSeason summarise, SeasonReader seasons, IOptions<FleetOptions> options, IOptions<GrantOptions> grants)
{
    /// <summary>The most rows of one table that a page shows.</summary>
    public const int Most = 1000;

    /// <param name="Figure">The figure's name.</param>
    /// <param name="Definition">What it means.</param>
    /// <param name="Title">The days and the stations.</param>
    /// <param name="Value">The figure, in words with its unit.</param>
    /// <param name="Tables">The rows, by what they are.</param>
    public sealed record View(string Figure, string Definition, string Title, string Value, IReadOnlyList<Table> Tables);

    /// <param name="Name">What the rows are.</param>
    /// <param name="Grid">The rows that are shown.</param>
    /// <param name="InAll">How many there are.</param>
    public sealed record Table(string Name, SeasonView.Grid Grid, int InAll);

    /// <summary>Reads the rows.</summary>
    /// <param name="viewer">Who asks.</param>
    /// <param name="key">The figure's key.</param>
    /// <param name="query">The same question as the season's.</param>
    /// <param name="cancel">Stops the reading.</param>
    /// <returns>Null when there is no such figure, or nothing is asked for that the person sees.</returns>
    public async Task<View?> HandleAsync(Viewer viewer, string key, SummariseSeason.Query query, CancellationToken cancel)
    {
        FigureDefinition? figure = SeasonDefinitions.All.Concat(SeasonDefinitions.OfSamples).FirstOrDefault(each => each.Key == key);
        if (figure is null || await summarise.AskAsync(viewer, query, cancel) is not { Season: { } season, Scope: { } scope } asked)
        {
            return null;
        }

        SeasonInput input = await seasons.ReadAsync(scope.Ids, season, asked.Now, cancel, scope.Access);
        SeasonSummary summary = SeasonSummary.Of(input);
        FigureValue? value = summary.Fleet.Listed.Where(each => each.Definition == figure).Select(each => (FigureValue?)each).FirstOrDefault();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        SeasonDatabaseRows stored = new(db, scope, season, asked.Now, options.Value.Zone);
        return new View(
            figure.Name, figure.Definition, SeasonWords.Title(season) + (scope.Only.Length > 0 ? $", {scope.Only}" : ""),
            value is { } known ? $"{SeasonWords.Value(known, options.Value.Units)} {(figure.Unit == FigureUnit.Share ? "" : figure.UnitName(options.Value.Units))}".Trim() : "",
            [.. (await TablesAsync(figure, viewer, input, summary, stored, cancel)).Select(table => new Table(table.Name, table.Grid with { Rows = [.. table.Grid.Rows.Take(Most)] }, table.Grid.Rows.Count))]);
    }

    private async Task<IReadOnlyList<(string Name, SeasonView.Grid Grid)>> TablesAsync(
        FigureDefinition figure, Viewer viewer, SeasonInput input, SeasonSummary summary, SeasonDatabaseRows stored, CancellationToken cancel)
    {
        UnitSystem units = options.Value.Units;
        (string, SeasonView.Grid) placed = ("Where it stood, and when it was not required", await stored.PlacedAsync(input, cancel));
        if (SeasonFigureRows.OfDays.Contains(figure))
        {
            return [placed];
        }

        if (figure == SeasonDefinitions.ReportingCoverage)
        {
            return [("Hours with data, by day", SeasonFigureRows.Reporting(input)), placed];
        }

        if (SeasonFigureRows.OfTickets.Contains(figure))
        {
            return [("Tickets", SeasonLists.Tickets(summary)), placed];
        }

        if (SeasonFigureRows.OfTank.Contains(figure))
        {
            return [("Pump-outs", SeasonLists.PumpOuts(summary, units)), ("The tank's last level of each day", SeasonFigureRows.Tank(summary, units))];
        }

        if (SeasonFigureRows.OfVisits.Contains(figure))
        {
            return [("Visits", await stored.VisitsAsync(cancel))];
        }

        if (BoatDefinitions.All.Contains(figure))
        {
            return [("Count shifts", SeasonFigureRows.Counts(input)), ("Uses, by day and tool", SeasonFigureRows.Uses(input))];
        }

        if (figure == SeasonDefinitions.Cost || figure == SeasonDefinitions.CostPerSession)
        {
            (string, SeasonView.Grid) booked = ("Time and cost entries", viewer.MayKeepBooks() ? await stored.BookedAsync(grants.Value.CurrencySign, cancel) : new SeasonView.Grid([], 0, []));
            return figure == SeasonDefinitions.Cost ? [booked] : [booked, ("Hours with a use, by day", SeasonFigureRows.Sessions(input))];
        }

        return figure == SeasonDefinitions.UseSessions ? [("Hours with a use, by day", SeasonFigureRows.Sessions(input))]
            : SeasonDefinitions.OfSamples.Contains(figure) ? [("Samples", await stored.SamplesAsync(cancel)), ("Pump-outs", SeasonLists.PumpOuts(summary, units))]
            : [("Uses, by day and tool", SeasonFigureRows.Uses(input))];
    }
}

/// <summary>Rows that the database holds as they were entered.</summary>
internal sealed class SeasonDatabaseRows(FleetDbContext db, SeasonScope scope, Season season, DateTimeOffset now, TimeZoneInfo fleetZone)
{
    private readonly Dictionary<StationId, string> _codes = scope.Stations.ToDictionary(station => station.Id, station => station.Code);

    private DateTimeOffset From => LocalCalendar.StartOf(season.FirstDay, fleetZone);

    private DateTimeOffset To => LocalCalendar.StartOf(season.LastDay.AddDays(1), fleetZone) is var end && end < now ? end : now;

    public async Task<SeasonView.Grid> PlacedAsync(SeasonInput input, CancellationToken cancel)
    {
        var stood = await db.Placements.Where(placement => scope.Ids.Contains(placement.StationId) && placement.From < To && (placement.To == null || placement.To > From))
            .Where(placement => scope.Access == null || placement.AccessId == scope.Access)
            .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (placement, access) => new { placement.StationId, placement.From, placement.To, access.Name, access.Water })
            .ToListAsync(cancel);
        return new SeasonView.Grid(
            ["Station", "From", "To", "What"], 4,
            [
                .. from station in input.Stations
                   from row in stood.Where(row => row.StationId == station.Id).Select(row => (row.From, row.To, What: $"stood at {row.Name}, {row.Water}"))
                       .Concat(station.Setup.Quiet.Where(quiet => quiet.From < To && (quiet.To is null || quiet.To > From)).Select(quiet => (quiet.From, quiet.To, What: Say(quiet.Reason))))
                       .OrderBy(row => row.From)
                   select (IReadOnlyList<string>)
                   [
                       station.Setup.Code, row.From <= DateTimeOffset.MinValue.AddYears(1) ? "" : SeasonFigureRows.Say(row.From, station.Setup.Zone),
                       row.To is { } to ? SeasonFigureRows.Say(to, station.Setup.Zone) : "still", row.What,
                   ],
            ]);
    }

    public async Task<SeasonView.Grid> VisitsAsync(CancellationToken cancel)
    {
        var rows = await db.ServiceVisits.Where(visit => scope.Ids.Contains(visit.StationId) && visit.At >= From && visit.At < To).OrderByDescending(visit => visit.At)
            .Select(visit => new { visit.StationId, visit.At, visit.Minutes, visit.Hours, visit.Award, Ticket = db.Tickets.Where(ticket => ticket.Id == visit.TicketId).Select(ticket => (int?)ticket.Number).FirstOrDefault() })
            .ToListAsync(cancel);
        return new SeasonView.Grid(
            ["Ticket", "Station", "When", "Whose hours", "Award", "Minutes"], 5,
            [
                .. rows.Select(row => (IReadOnlyList<string>)
                [
                    row.Ticket is { } number ? string.Create(CultureInfo.InvariantCulture, $"T-{number}") : "no ticket", _codes[row.StationId],
                    SeasonFigureRows.Say(row.At, fleetZone), row.Hours?.ToString().ToLowerInvariant() ?? "not said", row.Award ?? "", row.Minutes?.ToString(CultureInfo.InvariantCulture) ?? "–",
                ]),
            ]);
    }

    public async Task<SeasonView.Grid> BookedAsync(string sign, CancellationToken cancel)
    {
        // What names no station belongs to the whole fleet.
        bool hasAll = !await db.Stations.AnyAsync(station => !scope.Ids.Contains(station.Id), cancel) && scope.Access is null;
        List<TimeEntry> time = await db.TimeEntries.Where(entry => entry.Day >= season.FirstDay && entry.Day <= season.LastDay
            && (entry.StationId == null ? hasAll : scope.Ids.Contains(entry.StationId.Value))).ToListAsync(cancel);
        List<CostEntry> cost = await db.CostEntries.Where(entry => entry.Day >= season.FirstDay && entry.Day <= season.LastDay
            && (entry.StationId == null ? hasAll : scope.Ids.Contains(entry.StationId.Value))).ToListAsync(cancel);
        return new SeasonView.Grid(
            ["What", "Day", "Station", "Who pays", "Amount"], 4,
            [
                .. time.Select(entry => (entry.Day, What: $"{entry.Activity}, {entry.Person}, {entry.Minutes.ToString("0;−0", CultureInfo.InvariantCulture)} min", entry.StationId, entry.Kind, Amount: entry.Worth))
                    .Concat(cost.Select(entry => (entry.Day, entry.What, entry.StationId, entry.Kind, entry.Amount))).OrderByDescending(entry => entry.Day)
                    .Select(entry => (IReadOnlyList<string>)
                    [
                        entry.What, entry.Day.ToString("d MMM yyyy", CultureInfo.InvariantCulture), entry.StationId is { } id ? _codes[id] : "all stations",
                        ReadBooks.Kind(entry.Kind), entry.Amount.Say(sign),
                    ]),
            ]);
    }

    public async Task<SeasonView.Grid> SamplesAsync(CancellationToken cancel)
    {
        var rows = await db.Samples.Where(sample => scope.Ids.Contains(sample.StationId) && sample.TakenAt >= From && sample.TakenAt < To).OrderByDescending(sample => sample.TakenAt)
            .Select(sample => new
            {
                sample.Code, sample.StationId, sample.Kind, sample.TakenAt, sample.Litres,
                Looked = db.SampleAliquots.Where(aliquot => aliquot.SampleId == sample.Id && aliquot.RecountOf == null).Sum(aliquot => aliquot.ExaminedMl),
            }).ToListAsync(cancel);
        return new SeasonView.Grid(
            ["Sample", "Station", "Kind", "Taken", "Litres", "Looked through, mL"], 4,
            [
                .. rows.Select(row => (IReadOnlyList<string>)
                [
                    row.Code, _codes[row.StationId], SamplingWords.Of(row.Kind), SeasonFigureRows.Say(row.TakenAt, fleetZone),
                    row.Litres?.ToString("0.##", CultureInfo.InvariantCulture) ?? "–", row.Looked > 0 ? row.Looked.ToString("0.##", CultureInfo.InvariantCulture) : "–",
                ]),
            ]);
    }

    private static string Say(QuietReason reason) => reason switch
    {
        QuietReason.Winterized => "winterized: not required",
        QuietReason.InTransit => "in transit: not required",
        _ => "its access was closed: not required",
    };
}
