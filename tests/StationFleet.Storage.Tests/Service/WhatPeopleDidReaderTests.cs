using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Tests.Service;

public sealed class WhatPeopleDidReaderTests : IAsyncLifetime
{
    private static readonly DateTimeOffset Start = FleetBuilders.Created;

    private readonly FleetDatabaseFile _file = new();
    private Station _station = null!;

    public async Task InitializeAsync()
    {
        await _file.InitializeAsync();
        _station = await _file.AddStationAsync();
    }

    public Task DisposeAsync() => _file.DisposeAsync();

    [Fact]
    public async Task Visits_takings_and_closings_come_with_the_time_of_the_work()
    {
        TicketId ticket = await AddTicketAsync(1, raised: 10, closed: 40, doneAt: 36, TicketOutcome.Fixed);
        await AddEventAsync(ticket, 12, TicketEventKind.Taken, "Field crew");
        await AddEventAsync(ticket, 40, TicketEventKind.Closed, "Field crew");
        await _file.AddAsync(new ServiceVisit { StationId = _station.Id, TicketId = ticket, Who = "Field crew", At = Start.AddHours(36), Minutes = 20 });

        WhatPeopleDid did = await ReadAsync(0, 100);

        did.Events.Should().BeEquivalentTo(new TrialEvent[]
        {
            new TrialEvent.Visited(Start.AddHours(36).AddMinutes(-20), Start.AddHours(36)),
            new TrialEvent.TicketTaken(Start.AddHours(12), Rule.TankFilling, ""),
            new TrialEvent.TicketClosed(Start.AddHours(36), Rule.TankFilling, "", TicketOutcome.Fixed),
        }, options => options.RespectingRuntimeTypes());
        did.Tickets.Should().Equal(new TicketThen(Rule.TankFilling, "", Start.AddHours(10), Start.AddHours(36)));
    }

    [Fact]
    public async Task A_closing_before_a_reopening_counts_as_not_done_and_what_the_watch_closed_is_no_persons_doing()
    {
        TicketId reopened = await AddTicketAsync(1, raised: 10, closed: 90, doneAt: null, TicketOutcome.NothingWrong);
        await AddEventAsync(reopened, 40, TicketEventKind.Closed, "Field crew");
        await AddEventAsync(reopened, 90, TicketEventKind.Closed, "Field crew");
        TicketId byItself = await AddTicketAsync(2, raised: 20, closed: 30, doneAt: null, TicketOutcome.ClearedByItself, Rule.NotReporting);
        await AddEventAsync(byItself, 30, TicketEventKind.Closed, who: null);

        WhatPeopleDid did = await ReadAsync(0, 100);

        did.Events.Should().Equal(
            new TrialEvent.TicketClosed(Start.AddHours(40), Rule.TankFilling, "", TicketOutcome.NotDone),
            new TrialEvent.TicketClosed(Start.AddHours(90), Rule.TankFilling, "", TicketOutcome.NothingWrong));
        did.Tickets.Should().HaveCount(2);
    }

    [Fact]
    public async Task Only_what_happened_within_the_time_is_read_and_a_ticket_open_then_belongs_to_it()
    {
        TicketId over = await AddTicketAsync(1, raised: 10, closed: 20, doneAt: null, TicketOutcome.Fixed);
        await AddEventAsync(over, 20, TicketEventKind.Closed, "Field crew");
        TicketId open = await AddTicketAsync(2, raised: 30, closed: null, doneAt: null, outcome: null, Rule.LowCharge);
        await AddEventAsync(open, 40, TicketEventKind.Taken, "Field crew");

        WhatPeopleDid did = await ReadAsync(50, 100);

        did.Events.Should().BeEmpty();
        did.Tickets.Should().Equal(new TicketThen(Rule.LowCharge, "", Start.AddHours(30), null));
    }

    private Task<WhatPeopleDid> ReadAsync(int fromHour, int toHour) =>
        new WhatPeopleDidReader(_file).ReadAsync(_station.Id, Start.AddHours(fromHour), Start.AddHours(toHour), CancellationToken.None);

    private async Task<TicketId> AddTicketAsync(
        int number, int raised, int? closed, int? doneAt, TicketOutcome? outcome, Rule rule = Rule.TankFilling) => (await _file.AddAsync(new Ticket
        {
            Number = number,
            StationId = _station.Id,
            Rule = rule,
            Part = "",
            Evidence = "{}",
            Raised = Start.AddHours(raised),
            State = closed is null ? TicketState.New : TicketState.Closed,
            Closed = closed is { } at ? Start.AddHours(at) : null,
            DoneAt = doneAt is { } done ? Start.AddHours(done) : null,
            Outcome = outcome,
        })).Id;

    private Task<TicketEvent> AddEventAsync(TicketId ticket, int hour, TicketEventKind kind, string? who) =>
        _file.AddAsync(new TicketEvent { TicketId = ticket, At = Start.AddHours(hour), Kind = kind, Who = who });
}
