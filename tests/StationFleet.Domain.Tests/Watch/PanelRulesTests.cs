using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class PanelRulesTests
{
    [Fact]
    public void A_panel_that_lost_a_third_is_weak_and_a_healthy_one_never()
    {
        PowerScene scene = new();
        scene.PassDays(30);
        scene.Station.Find(Rule.WeakPanel).Should().BeNull();

        scene.PanelShare = 0.7 * 0.67;
        scene.PassDays(16);

        Problem weak = scene.Station.Find(Rule.WeakPanel)!;
        weak.Urgency.Should().Be(Urgency.NeedsVisit);
        ((WeakPanelEvidence)weak.Evidence).Ratio.Should().BeApproximately(0.67, 0.02);
    }

    [Fact]
    public void A_full_battery_throttles_its_panel_and_that_is_no_weakness()
    {
        PowerScene scene = new();
        scene.PassDays(30);

        scene.Charge = _ => 0.98;
        scene.PanelShare = 0.2;
        scene.PassDays(20);

        scene.Station.Find(Rule.WeakPanel).Should().BeNull("no quarter hour asked for all that it has");
        PowerWords.Panel(scene.Station.Facts, PowerScene.Agm, new DateOnly(2026, 7, 20)).Should().Contain("the battery was full, which is good news");
    }

    [Fact]
    public void When_the_panels_around_fall_as_well_the_sky_is_to_blame()
    {
        PowerScene hazy = new(neighbours: NeighbourPanels.Of([0.70, 0.66, 0.71]));
        hazy.PassDays(30);
        hazy.PanelShare = 0.7 * 0.67;
        hazy.PassDays(20);

        hazy.Station.Find(Rule.WeakPanel).Should().BeNull();
        NeighbourPanels.Of([0.5, 0.6]).Should().BeNull("two others say nothing");
    }

    [Fact]
    public void A_cleaned_panel_is_judged_anew()
    {
        DateTimeOffset cleaned = WatchedStation.Start.AddDays(48);
        PowerScene scene = new(service: new ServiceLog([], [new TicketFinding(Rule.WeakPanel, "", cleaned, WasFine: false)]));
        scene.PassDays(30);
        scene.PanelShare = 0.45;
        scene.PassDays(17);
        scene.Station.Find(Rule.WeakPanel).Should().NotBeNull();

        scene.PanelShare = 0.7;
        scene.PassDays(3);

        scene.Station.Find(Rule.WeakPanel).Should().BeNull();
        scene.Station.Facts.Power.Tested.Should().HaveCountLessThan(4);
    }

    [Fact]
    public void A_dull_spell_as_long_as_the_station_knows_is_no_weakness()
    {
        // Dull and fair weeks in turn: a row of ten poor days is nothing new here.
        PowerScene scene = new();
        for (int spell = 0; spell < 6; spell++)
        {
            scene.PanelShare = spell % 2 == 0 ? 0.7 : 0.3;
            scene.PassDays(9);
            scene.Station.Find(Rule.WeakPanel).Should().BeNull($"it was spell {spell}");
        }
    }

    [Fact]
    public void Nothing_from_the_panel_for_two_hours_of_sun_is_told_the_same_day()
    {
        PowerScene scene = new();
        scene.PassDays(2).PassToHour(9);
        scene.PanelShare = 0;
        scene.PassToHour(10.5);
        scene.Station.Find(Rule.WeakPanel).Should().BeNull("a cloud may be that dark for an hour");

        scene.PassToHour(11.5);

        Problem none = scene.Station.Find(Rule.WeakPanel)!;
        none.Evidence.Should().BeOfType<NoPanelEvidence>().Which.ChargeShare.Should().Be(0.8);
        ProblemSentences.Title(none.Evidence).Should().Be("Find out why nothing comes from the panel");

        scene.PanelShare = 0.7;
        scene.PassToHour(12.5);
        scene.Station.Find(Rule.WeakPanel).Should().BeNull();
    }

    [Fact]
    public void A_full_battery_that_is_drained_in_the_sun_shows_a_disconnected_panel_and_one_that_is_kept_full_does_not()
    {
        PowerScene kept = new() { Charge = _ => 0.98 };
        kept.PassDays(2).PassToHour(9);
        kept.PanelShare = 0;
        kept.PassToHour(13);
        kept.Station.Find(Rule.WeakPanel).Should().BeNull("a controller may leave the panel alone while the battery is full");

        PowerScene drained = new() { Charge = _ => 0.98 };
        drained.PassDays(2).PassToHour(9);
        (drained.PanelShare, drained.Charge) = (0, hour => 0.98 - (0.008 * (hour - 9)));
        drained.PassToHour(13);
        drained.Station.Find(Rule.WeakPanel)!.Evidence.Should().BeOfType<NoPanelEvidence>();
    }

    [Fact]
    public void The_night_is_no_disconnected_panel()
    {
        PowerScene scene = new() { PanelShare = 0.7 };
        scene.PassDays(3);

        scene.Station.Steps.Should().NotContain(step => step.Problems.Any(problem => problem.Rule == Rule.WeakPanel));
    }

    [Fact]
    public void The_sentence_speaks_of_the_others_where_they_are_known()
    {
        Reader reader = new(Domain.Quantities.UnitSystem.UsCustomary, WatchedStation.Boise, WatchedStation.Start);

        ProblemSentences.Sentence(new WeakPanelEvidence(0.71, new DateOnly(2026, 7, 3), 0.98, 4), Urgency.NeedsVisit, reader).Should().Be(
            "At its best it gives 71 % of what it used to, with the battery asking for all it has (last tested on 3 July). Dirt, new shade or a bad connection. "
            + "The four panels around are at 98 %.");
    }
}
