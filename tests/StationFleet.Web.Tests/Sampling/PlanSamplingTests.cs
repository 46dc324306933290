using StationFleet.Storage.Fleet;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Sampling;

public sealed class PlanSamplingTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    [Source("Green & Young, Ecol. Appl. 3, 351–356, 1993: V = −ln(0.05)/c, 29.957 L at 0.1 per litre")]
    public async Task The_plan_says_litres_grabs_and_a_calendar_within_the_budget()
    {
        Station station = await app.AddSampledStationAsync("PLN-1");
        DateTimeOffset lastYear = FleetApp.Start.AddYears(-1);
        for (int week = -2; week < 8; week++)
        {
            await app.AddPumpOutAsync(station, lastYear.AddDays(7 * week));
        }

        PlanSampling.Outcome outcome = await app.Get<PlanSampling>().HandleAsync(
            Viewers.Biologist, new PlanSampling.Command { PerLitre = "0.1", LitresPerGrab = "10", Budget = "3", CostPerSample = "1" }, CancellationToken.None);

        PlanSampling.Plan plan = outcome.Should().BeOfType<PlanSampling.Outcome.Planned>().Subject.Plan;
        plan.Detect.Should().Be("For a 95 % probability of detection at one organism per 10 L, examine 30 L of well-mixed tank water.");
        plan.Patchiness.Should().StartWith("Patchiness is assumed");
        plan.Calendar!.Samples.Should().HaveCount(3).And.OnlyContain(sample => sample.Station == "PLN-1" && sample.PumpOutExpected >= new DateOnly(2026, 7, 8) && sample.Due < sample.PumpOutExpected);
    }

    [Theory]
    [InlineData("0", "95", "", "", "PerLitre")]
    [InlineData("0.1", "100", "", "", "Probability")]
    [InlineData("0.1", "95", "100", "", "CostPerSample")]
    public async Task A_wish_that_cannot_be_planned_says_so(string perLitre, string probability, string budget, string cost, string field) =>
        (await app.Get<PlanSampling>().HandleAsync(
            Viewers.Biologist, new PlanSampling.Command { PerLitre = perLitre, Probability = probability, Budget = budget, CostPerSample = cost }, CancellationToken.None))
        .Should().BeOfType<PlanSampling.Outcome.Refused>().Which.Wrong.Should().ContainKey(field);
}
