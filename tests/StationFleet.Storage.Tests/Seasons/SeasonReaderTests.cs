using System.Globalization;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Seasons;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;
using static StationFleet.Testing.FleetBuilders;

namespace StationFleet.Storage.Tests.Seasons;

public sealed class SeasonReaderTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private static readonly Season Season = new(2026, new DateOnly(2026, 5, 1), new DateOnly(2026, 10, 15));
    private static readonly DateTimeOffset May1 = new(2026, 5, 1, 6, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset Oct16 = new(2026, 10, 16, 6, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task The_summary_equals_hand_written_queries_on_the_database()
    {
        Station station = await BusyStationAsync("HAND-1");

        SeasonFigures figures = (await SummaryAsync(station)).Fleet;

        // Uses: from the raw readings, without the roll-ups. A counter that fell restarted, and gained at least what it shows.
        string uses = $"""
            SELECT sum(CASE WHEN value < before THEN value ELSE value - before END) FROM (
                SELECT at, value, lag(value) OVER (PARTITION BY series_id ORDER BY at) AS before FROM measurements
                WHERE series_id IN (SELECT id FROM series WHERE station_id = {station.Id.Value} AND name LIKE 'tools/%/uses'))
            WHERE at > {May1.ToUnixTimeMilliseconds()} AND at <= {Oct16.ToUnixTimeMilliseconds()}
            """;
        figures.Uses.Should().Be(Number(uses));
        figures.Restarts.Should().Be(1);
        figures.UsesOnUncertainDay.Should().BeGreaterThan(0, "three days were silent");

        // Sessions: the distinct hours in which either counter rose or began again above nothing.
        string sessions = $"""
            SELECT count(DISTINCT (at - 1) / 3600000) FROM (
                SELECT at, value, lag(value) OVER (PARTITION BY series_id ORDER BY at) AS before FROM measurements
                WHERE series_id IN (SELECT id FROM series WHERE station_id = {station.Id.Value} AND name LIKE 'tools/%/uses'))
            WHERE at > {May1.ToUnixTimeMilliseconds()} AND at <= {Oct16.ToUnixTimeMilliseconds()} AND (value > before OR value < before AND value > 0)
            """;
        figures.UseSessions.Should().Be((int)Number(sessions));
        (figures.Visits, figures.VisitTime).Should().Be((1, TimeSpan.FromMinutes(50)));

        // Coverage: the distinct hours of required time with a reading; an hour ends with the reading at its end.
        string hours = $"""
            SELECT count(DISTINCT (at - 1) / 3600000) FROM measurements
            WHERE series_id IN (SELECT id FROM series WHERE station_id = {station.Id.Value})
            AND at > {May1.ToUnixTimeMilliseconds()} AND at <= {Oct16.ToUnixTimeMilliseconds()}
            """;
        figures.HoursWithData.Should().Be(Number(hours));

        string litres = $"SELECT sum(litres) FROM pump_outs WHERE station_id = {station.Id.Value}";
        figures.LitresPumpedOut.Should().BeApproximately(Number(litres), 1e-9);
        figures.PumpOuts.Should().Be(2);

        string raised = $"""
            SELECT count(*) FROM tickets WHERE station_id = {station.Id.Value}
            AND raised >= {May1.ToUnixTimeMilliseconds()} AND raised < {Oct16.ToUnixTimeMilliseconds()}
            """;
        figures.TicketsRaised.Should().Be((int)Number(raised));
        string closed = $"SELECT max(done_at - raised) / 3600000.0 FROM tickets WHERE station_id = {station.Id.Value} AND state = 'Closed'";
        figures.MedianTimeToClose!.Value.TotalHours.Should().Be(Number(closed), "one ticket was closed");
        figures.Availability.DownTime.TotalHours.Should().Be(Number(closed) + (5 * 24), "the other was open for the last five days");
        figures.Availability.MeanActiveRepair.Should().Be(TimeSpan.FromMinutes(50));
    }

    [Fact]
    public async Task Required_time_leaves_out_moves_closures_and_winter()
    {
        Station station = await file.AddStationAsync("MOVE-1", isPortable: true);
        Access first = await file.AddAccessAsync("move-first");
        Access second = await file.AddAccessAsync("move-second");
        await file.AddPlacementAsync(station, first, May1.AddDays(-20), May1.AddDays(10));
        await file.AddPlacementAsync(station, second, May1.AddDays(12));
        await file.AddAsync(new AccessClosure { AccessId = first.Id, From = May1.AddDays(8), To = May1.AddDays(40), Reason = "low water" });
        await file.AddAsync(new AccessClosure { AccessId = second.Id, From = May1.AddDays(1), To = May1.AddDays(14), Reason = "works" });
        await file.AddAsync(new WinterStorage { StationId = station.Id, From = May1.AddDays(100) });

        SeasonSummary summary = await SummaryAsync(station);

        summary.Fleet.DaysInService.Should().Be(8 + (100 - 14), "each access counts as closed only while the station stood there");
        summary.Stations.Single().Place.Should().Be("move-second, Copperline Reservoir");
    }

    [Fact]
    public async Task A_station_that_never_stood_anywhere_was_never_in_service()
    {
        Station station = await file.AddStationAsync("NOWHERE-1");

        (await SummaryAsync(station)).Fleet.DaysInService.Should().Be(0);
    }

    [Fact]
    public async Task A_ticket_of_the_season_before_is_left_out_and_one_carried_in_is_not()
    {
        Station station = await file.AddStationAsync("CARRY-1");
        await TicketAsync(station, 901, "a", May1.AddDays(-60), doneAt: May1.AddDays(-50));
        await TicketAsync(station, 902, "b", May1.AddDays(-60), doneAt: May1.AddDays(3));

        SeasonSummary summary = await SummaryAsync(station);

        summary.Stations.Single().Tickets.Select(ticket => ticket.Number).Should().Equal(902);
        (summary.Fleet.TicketsRaised, summary.Fleet.TicketsClosed).Should().Be((0, 1));
    }

    private async Task<Station> BusyStationAsync(string code)
    {
        Station station = await file.AddStationAsync(code);
        await file.AddPlacementAsync(station, await file.AddAccessAsync("busy"), Created);
        await file.AddToolAsync(station, "vacuum");
        await file.AddAsync(new StationTank { StationId = station.Id, From = Created, CapacityLitres = 208 });
        Random random = new(2026);
        double vacuum = 10;
        double brush = 50;
        List<Measurement> measurements = [];
        for (DateTimeOffset at = May1.AddDays(-2); at <= Oct16.AddDays(2); at = at.AddMinutes(51))
        {
            if (at > May1.AddDays(30) && at < May1.AddDays(33))
            {
                continue; // silent, while people go on
            }

            vacuum += random.Next(4);
            brush = measurements.Count == 3_000 ? 3 : brush + random.Next(2);
            measurements.Add(new Measurement(MeasurementName.Uses("vacuum"), at, vacuum));
            measurements.Add(new Measurement(MeasurementName.Uses("brush"), at, brush));
        }

        foreach (Measurement[] part in measurements.Chunk(500))
        {
            (await file.Writer.WriteAsync(Report(station, part), CancellationToken.None)).Should().BeOfType<WriteOutcome.Stored>();
        }

        await file.AddAsync(new PumpOut { StationId = station.Id, At = May1.AddDays(40), Litres = 160.25, Source = PumpOutSource.Telemetry });
        await file.AddAsync(new PumpOut { StationId = station.Id, At = May1.AddDays(80), Litres = 151.5, Source = PumpOutSource.Visit });
        Ticket done = await TicketAsync(station, 701, "vacuum", May1.AddDays(20), doneAt: May1.AddDays(21.5));
        await file.AddAsync(new ServiceVisit { StationId = station.Id, TicketId = done.Id, Who = "technician", At = done.DoneAt!.Value, Minutes = 50 });
        await TicketAsync(station, 702, "brush", Oct16.AddDays(-5), doneAt: null);
        return station;
    }

    private async Task<Ticket> TicketAsync(Station station, int number, string part, DateTimeOffset raised, DateTimeOffset? doneAt)
    {
        Ticket ticket = await file.AddAsync(new Ticket
        {
            Number = number, StationId = station.Id, Rule = Rule.IdleTool, Part = part, Raised = raised, Evidence = "{}",
            State = doneAt is null ? TicketState.New : TicketState.Closed, DoneAt = doneAt, Closed = doneAt?.AddHours(2),
            Outcome = doneAt is null ? null : TicketOutcome.Fixed,
        });
        await file.AddAsync(new TicketEvent { TicketId = ticket.Id, At = raised, Kind = TicketEventKind.Raised });
        if (doneAt is { } done)
        {
            await file.AddAsync(new TicketEvent { TicketId = ticket.Id, At = done.AddHours(2), Kind = TicketEventKind.Closed });
        }

        return ticket;
    }

    private async Task<SeasonSummary> SummaryAsync(Station station) => SeasonSummary.Of(
        await new SeasonReader(file, new StationSetupReader(file), file.Reader).ReadAsync([station.Id], Season, Oct16.AddDays(30), CancellationToken.None));

    private double Number(string sql) => Convert.ToDouble(file.Scalar(sql), CultureInfo.InvariantCulture);
}
