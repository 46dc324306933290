using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Seasons;

public sealed class TicketHistoryTests
{
    private static readonly DateTimeOffset Start = new(2026, 7, 1, 0, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_station_is_down_until_the_work_is_done_and_not_until_the_server_hears_of_it()
    {
        TicketRecord ticket = Ticket(doneHour: 5, (1, TicketEventKind.Taken), (9, TicketEventKind.Closed));

        TicketHistory history = TicketHistory.Until(ticket, Start.AddHours(100));

        history.Done.Should().Be(Start.AddHours(5));
        history.Down.Should().ContainSingle().Which.Restored.Should().Be(Start.AddHours(5));
    }

    [Fact]
    public void A_station_is_down_only_until_the_problem_clears_by_itself()
    {
        TicketRecord ticket = Ticket(doneHour: 50, (3, TicketEventKind.ProblemCleared), (50, TicketEventKind.Closed));

        TicketHistory history = TicketHistory.Until(ticket, Start.AddHours(100));

        history.Done.Should().Be(Start.AddHours(50));
        history.Down.Should().ContainSingle().Which.Restored.Should().Be(Start.AddHours(3));
    }

    [Fact]
    public void A_problem_that_comes_back_makes_the_station_down_again()
    {
        TicketRecord ticket = Ticket(
            doneHour: null, (3, TicketEventKind.ProblemCleared), (8, TicketEventKind.ProblemReturned), (9, TicketEventKind.Noted));

        TicketHistory history = TicketHistory.Until(ticket, Start.AddHours(100));

        history.IsOpen.Should().BeTrue();
        history.Down.Should().Equal(
            new Failure(Start, Start.AddHours(3), ticket.ActiveWork), new Failure(Start.AddHours(8), null, null));
    }

    [Fact]
    public void A_reopened_ticket_is_open_until_it_is_closed_again()
    {
        TicketRecord ticket = Ticket(
            doneHour: 40, (4, TicketEventKind.Closed), (28, TicketEventKind.Reopened), (41, TicketEventKind.Closed));

        TicketHistory.Until(ticket, Start.AddHours(30)).IsOpen.Should().BeTrue();
        TicketHistory.Until(ticket, Start.AddHours(100)).Down.Should().Equal(
            new Failure(Start, Start.AddHours(4), ticket.ActiveWork), new Failure(Start.AddHours(28), Start.AddHours(40), null));
    }

    [Fact]
    public void A_ticket_closed_after_the_instant_was_open_at_it()
    {
        TicketRecord ticket = Ticket(doneHour: 50, (51, TicketEventKind.Closed));

        TicketHistory history = TicketHistory.Until(ticket, Start.AddHours(50));

        history.IsOpen.Should().BeTrue();
        history.Done.Should().BeNull();
    }

    [Fact]
    public void A_phone_with_a_clock_that_is_behind_does_not_close_a_ticket_before_it_was_raised() =>
        TicketHistory.Until(Ticket(doneHour: -7, (2, TicketEventKind.Closed)), Start.AddHours(100)).Done.Should().Be(Start);

    [Fact]
    public void Overlapping_tickets_make_one_failure_with_their_work_together()
    {
        IReadOnlyList<Failure> joined = StationFailures.Join(
        [
            new Failure(Start.AddHours(30), null, null),
            new Failure(Start.AddHours(2), Start.AddHours(9), TimeSpan.FromHours(1)),
            new Failure(Start, Start.AddHours(5), TimeSpan.FromHours(2)),
            new Failure(Start.AddHours(40), Start.AddHours(41), null),
        ]);

        joined.Should().Equal(
            new Failure(Start, Start.AddHours(9), TimeSpan.FromHours(3)), new Failure(Start.AddHours(30), null, null));
    }

    private static TicketRecord Ticket(int? doneHour, params (int Hour, TicketEventKind Kind)[] events) => new(
        1, Rule.IdleTool, "brush", Start, doneHour is { } hour ? Start.AddHours(hour) : null, null, TimeSpan.FromMinutes(30),
        [new TicketHappening(Start, TicketEventKind.Raised), .. events.Select(e => new TicketHappening(Start.AddHours(e.Hour), e.Kind))]);
}
