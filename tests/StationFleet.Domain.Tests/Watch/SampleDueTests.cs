using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

/// <summary>The scene starts on Monday 1 June 2026, 06:00 in America/Boise.</summary>
public sealed class SampleDueTests
{
    private static readonly PlannedTaking Planned = new(7, new DateOnly(2026, 6, 8), new DateOnly(2026, 6, 20), 3, 10, Start);
    private static readonly DateTimeOffset EndOfDue = new(2026, 6, 21, 6, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Without_a_plan_nothing_falls_due()
    {
        WatchedStation station = new();

        station.Pass(TimeSpan.FromDays(30));

        station.Problems.Should().NotContain(problem => problem.Rule == Rule.SampleDue);
    }

    [Fact]
    public void It_is_due_soon_a_week_before_its_last_day_ends_and_a_ticket_two_days_before()
    {
        WatchedStation station = new(Planning(Planned));

        Until(station, EndOfDue.AddDays(-7).AddHours(-1));
        Find(station).Should().BeNull();
        Until(station, EndOfDue.AddDays(-7));
        Find(station)!.Urgency.Should().Be(Urgency.DueSoon);
        Until(station, EndOfDue.AddHours(-49));
        Find(station)!.Urgency.Should().Be(Urgency.DueSoon);
        Until(station, EndOfDue.AddHours(-48));

        Problem due = Find(station)!;
        due.Urgency.Should().Be(Urgency.NeedsVisit);
        due.Evidence.Should().Be(new SampleDueEvidence(Planned.From, Planned.Due, EndOfDue, 3, 10));
    }

    [Fact]
    public void It_is_not_due_before_its_first_day_however_long_the_notice()
    {
        WatchedStation station = new(Planning(Planned) with { Rules = new RuleSettings { SampleSoonDays = 60, SampleResponseHours = 400 } });

        Until(station, new DateTimeOffset(2026, 6, 8, 5, 0, 0, TimeSpan.Zero));
        Find(station).Should().BeNull("the 8th begins an hour later by the clock of the access");
        Until(station, new DateTimeOffset(2026, 6, 8, 6, 0, 0, TimeSpan.Zero));

        Find(station)!.Urgency.Should().Be(Urgency.NeedsVisit);
    }

    [Fact]
    public void It_goes_away_when_the_sample_is_recorded()
    {
        DateTimeOffset taken = EndOfDue.AddHours(-20);
        PlannedTaking met = PlannedTaking.Follow([Planned], [taken], [], Boise)[0];
        WatchedStation station = new(Planning(met));

        Until(station, EndOfDue.AddHours(-21));
        Find(station)!.Urgency.Should().Be(Urgency.NeedsVisit);
        Until(station, taken);

        Find(station).Should().BeNull();
        station.Steps[^1].Cleared.Should().Contain(new ClearedProblem(Rule.SampleDue, "plan-7"));
    }

    [Theory]
    [InlineData(QuietReason.Winterized)]
    [InlineData(QuietReason.InTransit)]
    [InlineData(QuietReason.AccessClosed)]
    public void It_keeps_quiet_while_the_station_is_not_required(QuietReason reason)
    {
        WatchedStation station = new(Planning(Planned) with { Quiet = [Quiet(reason, Start.AddDays(9), null)] });

        Until(station, EndOfDue);

        Find(station).Should().BeNull();
        station.Steps.SelectMany(step => step.Problems).Should().NotContain(problem => problem.Rule == Rule.SampleDue);
    }

    [Fact]
    public void A_tank_that_will_be_emptied_before_brings_it_forward()
    {
        // 10 % a day, emptied at 75 %: on 14 June it is more than half full again, and will be full long before 30 June.
        PlannedTaking late = Planned with { From = new DateOnly(2026, 6, 14), Due = new DateOnly(2026, 6, 30) };
        WatchedStation station = new(Planning(late));
        double share = 0.02;
        while (Find(station) is null)
        {
            share = share >= 0.75 ? 0.02 : share + (0.10 / 96);
            station.Pass(TimeSpan.FromMinutes(15)).Report(("tank/fill", Math.Round(share, 4)));
            station.Now.Should().BeBefore(Start.AddDays(20), "the tank is to be emptied before then");
        }

        SampleDueEvidence due = Find(station)!.Evidence.Should().BeOfType<SampleDueEvidence>().Subject;
        due.By.Should().BeBefore(new DateTimeOffset(2026, 6, 23, 6, 0, 0, TimeSpan.Zero), "a week of notice before 30 June has not begun");
        due.Tank!.FillShare.Should().BeInRange(0.02, 0.75);
        string sentence = ProblemSentences.Sentence(due, Urgency.DueSoon, new Reader(UnitSystem.Metric, Boise, station.Now));
        sentence.Should().MatchRegex(@"^A tank sample, three grabs of 10 L, planned for Sunday 14 June to Tuesday 30 June\. The tank is \d+ % full and will be full .*: it is likely to be pumped out before Tuesday 30 June\. Take it before that; what is pumped out can no longer be sampled\.$");
    }

    [Fact]
    public void A_tank_that_has_to_be_pumped_out_now_makes_it_a_ticket_now()
    {
        PlannedTaking late = Planned with { From = new DateOnly(2026, 6, 1), Due = new DateOnly(2026, 7, 15) };
        WatchedStation station = new(Planning(late));

        station.PassSaying(TimeSpan.FromHours(3), ("tank/fill", 0.84));

        Problem due = Find(station)!;
        due.Urgency.Should().Be(Urgency.NeedsVisit);
        ProblemSentences.Title(due.Evidence).Should().Be("Take the planned sample before the pump-out");
        ProblemSentences.Sentence(due.Evidence, due.Urgency, new Reader(UnitSystem.Metric, Boise, station.Now))
            .Should().Contain("The tank is 84 % full and is to be pumped out now. Take it before that");

        // Pumped out without a sample: the next water can still be sampled until 15 July.
        station.PassSaying(TimeSpan.FromHours(4), ("tank/fill", 0.02));
        Find(station).Should().BeNull();
    }

    [Fact]
    public void Its_ticket_closes_itself_unless_somebody_has_taken_it()
    {
        Problem due = new(Rule.SampleDue, "plan-7", Urgency.NeedsVisit, Start, new SampleDueEvidence(Planned.From, Planned.Due, EndOfDue, 3, 10));
        WatchStep cleared = new(Start.AddDays(5), [], [new ClearedProblem(Rule.SampleDue, "plan-7")]);
        LedgerTicket open = new(1, due.Rule, due.Part, TicketState.New, Start, due.Evidence);

        new TicketLedger([open]).Decide(cleared).Should().Equal(new TicketCommand.CloseByItself(cleared.At, 1));
        new TicketLedger([open with { State = TicketState.Taken }]).Decide(cleared).Should().Equal(new TicketCommand.ProblemCleared(cleared.At, 1));
    }

    [Fact]
    public void A_late_one_says_by_how_many_days()
    {
        SampleDueEvidence due = new(Planned.From, Planned.Due, EndOfDue, 1, null);

        string At(DateTimeOffset now) => ProblemSentences.Sentence(due, Urgency.NeedsVisit, new Reader(UnitSystem.Metric, Boise, now));

        At(EndOfDue.AddDays(-3)).Should().Be("A tank sample, one grab, planned for Monday 8 June to Saturday 20 June. Take it before the next pump-out.");
        At(EndOfDue.AddHours(-3)).Should().EndWith("Saturday 20 June is its last day.");
        At(EndOfDue.AddDays(2)).Should().Contain(": three days late.");
    }

    private static StationSetup Planning(PlannedTaking taking) => With() with { Takings = [taking] };

    private static Problem? Find(WatchedStation station) => station.Find(Rule.SampleDue, "plan-7");

    private static void Until(WatchedStation station, DateTimeOffset instant) => station.Pass(instant - station.Now);
}
