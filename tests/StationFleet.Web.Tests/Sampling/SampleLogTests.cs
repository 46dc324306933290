using System.Net;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Sampling;

public sealed class SampleLogTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task The_first_line_says_what_waits_what_is_overdue_and_which_tank_to_sample()
    {
        Station sampled = await app.AddSampledStationAsync("LOG-1");
        Station due = await app.AddSampledStationAsync("LOG-2");
        await app.AddPumpOutAsync(sampled, FleetApp.Start.AddDays(-5));
        await app.AddPumpOutAsync(due, FleetApp.Start.AddDays(-2));
        await app.AddSampleAsync(sampled, "LOG-1-260708-A");
        await app.AddSampleAsync(sampled, "LOG-1-260708-B");
        await app.AddSampleAsync(due, "LOG-2-260706-A", takenAt: FleetApp.Start.AddDays(-2).AddMinutes(20));
        HandOver handing = app.Get<HandOver>();
        HandOver.Command command = new() { Key = "handing-over-one", At = "2026-07-08T06:30", RelinquishedBy = "field crew", ReceivedBy = "Basin laboratory", Seal = "S-17", Promised = "2026-07-07" };

        SampleAnswer first = await handing.HandleAsync(Viewers.Technician, "LOG-1-260708-A", command, CancellationToken.None);
        SampleAnswer again = await handing.HandleAsync(Viewers.Technician, "LOG-1-260708-A", command, CancellationToken.None);

        (first, again).Should().Be((new SampleAnswer.Saved(), new SampleAnswer.Saved()));
        (_, PlainBrowser browser) = await app.AddBrowserAsync("log reader", FleetRoles.Supervisor);
        PlainBrowser.Page page = await browser.GoAsync("/samples");
        page.Words.Should().Contain("Three samples are waiting for their counts, one is overdue; sample LOG-2 before its next pump-out.")
            .And.Contain("with Basin laboratory, overdue since 7 Jul");
        PlainBrowser.Page chain = await browser.GoAsync("/samples/LOG-1-260708-A");
        chain.Words.Should().Contain("LOG-1-260708-A is overdue at Basin laboratory.").And.Contain("One more grab of the same water: LOG-1-260708-B")
            .And.Contain("Gathering since the pump-out Friday 07:05; still in the tank. Up to 5 days old when sampled");
        chain.Html.Should().Contain("S-17");
        PlainBrowser.Page label = await browser.GoAsync("/samples/labels.pdf?codes=LOG-1-260708-A,LOG-1-260708-B");
        (label.Status, label.Html[..5]).Should().Be((HttpStatusCode.OK, "%PDF-"));
        (await browser.GoAsync("/samples/labels.pdf?codes=NONE")).Status.Should().Be(HttpStatusCode.NotFound);
        (await browser.GoAsync("/samples/labels.pdf")).Status.Should().Be(HttpStatusCode.BadRequest);
    }
}
