using StationFleet.Domain.Sampling;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Sampling;

public sealed class EstimateTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task Three_counted_grabs_and_the_pump_out_make_an_estimate_on_sample_station_and_season()
    {
        (Station station, Taxon mussel) = await StartAsync("EST-1");
        int[] counts = [4, 9, 5];
        for (int grab = 0; grab < counts.Length; grab++)
        {
            await app.AddSampleAsync(station, $"EST-1-260706-{(char)('A' + grab)}", takenAt: FleetApp.Start.AddDays(-2));
            await CountAsync($"EST-1-260706-{(char)('A' + grab)}", mussel, counts[grab]);
        }

        IReadOnlyList<ReadEstimates.Estimate> own = await app.Get<ReadEstimates>().HandleAsync(Viewers.Biologist, "EST-1", "EST-1-260706-B", CancellationToken.None);

        ReadEstimates.Estimate veligers = own.Should().ContainSingle().Subject;
        veligers.Sentence.Should().StartWith("About 720 (", "18 in 3 L of 120 L collected").And.Contain("Quagga mussel veligers").And.Contain("alive or dead not determined")
            .And.Contain("not a count of introductions prevented");
        veligers.Samples.Should().Equal("EST-1-260706-A", "EST-1-260706-B", "EST-1-260706-C");
        veligers.Steps.Should().NotBeEmpty();
        (_, PlainBrowser browser) = await app.AddBrowserAsync("estimate reader", FleetRoles.Supervisor);
        (await browser.GoAsync("/samples/EST-1-260706-A")).Words.Should().Contain("What this water held").And.Contain("About 720 (");
        (await browser.GoAsync("/stations/EST-1")).Words.Should().Contain("What the tank’s water held").And.Contain("About 720 (");
        PlainBrowser.Page season = await browser.GoAsync("/samples/season?year=2026&water=Copperline%20Reservoir");
        season.Words.Should().Contain("there are too few samples to rank months").And.Contain("The samples carry no sentence yet.");
    }

    [Fact]
    public async Task A_dirty_blank_withholds_the_estimate_and_says_why()
    {
        (Station station, Taxon mussel) = await StartAsync("EST-2");
        await app.AddSampleAsync(station, "EST-2-260706-A", takenAt: FleetApp.Start.AddDays(-2));
        await app.AddSampleAsync(station, "EST-2-260706-BLANK", SampleKind.Blank, 2, null, FleetApp.Start.AddDays(-2));
        await CountAsync("EST-2-260706-A", mussel, 9);
        await CountAsync("EST-2-260706-BLANK", mussel, 1);

        (await app.Get<ReadEstimates>().HandleAsync(Viewers.Biologist, "EST-2", "EST-2-260706-A", CancellationToken.None))
            .Should().ContainSingle().Which.Sentence.Should().StartWith("No estimate of Quagga mussel veligers").And.Contain("blank");
    }

    private async Task<(Station Station, Taxon Mussel)> StartAsync(string code)
    {
        Station station = await app.AddSampledStationAsync(code);
        await app.AddPumpOutAsync(station, FleetApp.Start.AddDays(-12), 140);
        await app.AddPumpOutAsync(station, FleetApp.Start.AddDays(-2).AddMinutes(30), 120);
        return (station, await app.TaxonAsync("Quagga mussel", knownFrom: "Copperline Reservoir"));
    }

    private async Task CountAsync(string code, Taxon taxon, int count) =>
        (await app.Get<SaveCounts>().HandleAsync(Viewers.Biologist, code, Guid.NewGuid().ToString("N"), new BenchInput
        {
            ExaminedMl = "5", IdentifiedBy = "bench",
            Counts = new Dictionary<string, string> { [BenchInput.CountField(taxon.Id, LifeStage.Veliger)] = count.ToString(System.Globalization.CultureInfo.InvariantCulture) },
        }, CancellationToken.None)).Should().BeOfType<SaveCounts.Outcome.Saved>();
}
