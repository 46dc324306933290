using System.Net;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;

namespace StationFleet.Web.Tests.Sampling;

public sealed class TakeSamplesTests(FleetApp app) : IClassFixture<FleetApp>
{
    private const string Path = "/samples/take";
    private static int _last = 10;
    private readonly string _code = $"TAK-{Interlocked.Increment(ref _last)}";

    [Fact]
    public async Task The_form_needs_no_script_and_says_what_to_beware_of()
    {
        (_, PlainBrowser browser) = await StartAsync();

        PlainBrowser.Page page = await browser.GoAsync($"{Path}?station={_code}");

        page.Status.Should().Be(HttpStatusCode.OK);
        page.Words.Should().Contain("Before the next pump-out").And.Contain("Ethanol burns").And.Contain("Your agency’s rules and local codes come first");
        page.Html.Should().NotContain("blazor.web.js").And.Contain($"value=\"{_code}\" selected");
        page.Field("TakenAt").Should().Be("2026-07-08T07:05", "the form tells the access's time");
    }

    [Fact]
    public async Task Grabs_a_blank_and_pieces_become_jars_with_codes()
    {
        (Station station, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page answer = await browser.SendAsync(
            Path, page, "Send", "yes", ("Station", _code), ("GrabA", "10"), ("GrabB", "12.5"), ("Dips", "own"), ("Mesh", "64"), ("Blank", "2"), ("HasPieces", "yes"),
            ("Temperature", "68"), ("Left", "1"), ("Preservation", "Ethanol"), ("TakenAt", "2026-07-08T06:45"));

        answer.Location.Should().EndWith($"taken={_code}-260708-A,{_code}-260708-B,{_code}-260708-BLANK,{_code}-260708-PIECES");
        Sample[] samples = await app.SamplesAsync(station);
        samples.Select(sample => (sample.Kind, sample.Litres, sample.MeshUm)).Should().Equal(
            (SampleKind.Grab, 10, 64.0), (SampleKind.Grab, 12.5, 64.0), (SampleKind.Blank, 2, 64.0), (SampleKind.Pieces, null, (double?)null));
        samples[0].TakenAt.Should().Be(new DateTimeOffset(2026, 7, 8, 12, 45, 0, TimeSpan.Zero), "06:45 in Boise, in summer, is 12:45 UTC");
        samples[0].WaterTempC.Should().BeApproximately(20, 1e-9, "68 °F");
        samples[0].LeftLitres.Should().BeApproximately(3.785411784, 1e-9, "a US gallon");
        (await app.HistoryAsync(samples[0].Id)).Should().ContainSingle().Which.What.Should().Be("Taken Wed 8 Jul 2026, 06:45: grab of 10 L.");
    }

    [Fact]
    public async Task The_same_form_sent_twice_is_one_taking()
    {
        (Station station, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        (string, string)[] typed = [("Station", _code), ("GrabA", "10"), ("Preservation", "None"), ("TakenAt", page.Field("TakenAt"))];

        PlainBrowser.Page first = await browser.SendAsync(Path, page, "Send", "yes", typed);
        PlainBrowser.Page second = await browser.SendAsync(Path, page, "Send", "yes", typed);

        second.Location.Should().Be(first.Location);
        (await app.SamplesAsync(station)).Should().ContainSingle();
    }

    [Fact]
    public async Task Jars_poured_from_one_dip_are_not_taken_for_replicates()
    {
        (Station station, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page unsaid = await browser.SendAsync(Path, page, "Send", "yes", ("Station", _code), ("GrabA", "5"), ("GrabB", "5"), ("Preservation", "None"));
        PlainBrowser.Page shared = await browser.SendAsync(
            Path, unsaid, "Send", "yes", ("Station", _code), ("GrabA", "5"), ("GrabB", "5"), ("Dips", "one"), ("Preservation", "None"));

        unsaid.WrongBeside("Dips").Should().Be("Say whether each grab came from a dip of its own.");
        shared.WrongBeside("Dips").Should().StartWith("Poured from one dip they are one grab, not replicates");
        shared.Field("GrabB").Should().Be("5", "what was typed stays");
        (await app.SamplesAsync(station)).Should().BeEmpty();
    }

    [Theory]
    [InlineData("GrabA", "", "Write how many litres grab A holds; or a blank, or that there were plants or snails.")]
    [InlineData("GrabA", "ten", "Write a number, such as 12.5.")]
    [InlineData("GrabA", "0", "Write a number from 0.01 to 200 L.")]
    [InlineData("Station", "NONE-9", "Choose the station.")]
    [InlineData("Mesh", "-3", "Write a number from 1 to 5000 µm.")]
    [InlineData("Temperature", "200", "Write a number from 28.4 to 122 °F.")]
    [InlineData("TakenAt", "2026-07-08T09:00", "This is still to come. When was the sample taken?")]
    [InlineData("Preservation", "Vinegar", "Choose one of the list.")]
    public async Task A_wrong_value_says_so_beside_its_field(string field, string value, string sentence)
    {
        (Station station, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        Dictionary<string, string> typed = new() { ["Station"] = _code, ["GrabA"] = "10", ["Preservation"] = "Ethanol", ["Note"] = "stirred <well>" };
        typed[field] = value;

        PlainBrowser.Page answer = await browser.SendAsync(Path, page, "Send", "yes", [.. typed.Select(pair => (pair.Key, pair.Value))]);

        answer.Status.Should().Be(HttpStatusCode.OK);
        answer.WrongBeside(field).Should().Be(sentence);
        answer.TextArea("Note").Should().Be("stirred <well>");
        (await app.SamplesAsync(station)).Should().BeEmpty();
    }

    [Fact]
    public async Task A_supervisor_reads_only()
    {
        Station station = await app.AddSampledStationAsync(_code);
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"reader {_code}", FleetRoles.Supervisor);

        (await browser.GoAsync(Path)).Words.Should().Contain("Your role only reads samples.");
        (await app.SamplesAsync(station)).Should().BeEmpty();
    }

    private async Task<(Station Station, PlainBrowser Browser)> StartAsync()
    {
        Station station = await app.AddSampledStationAsync(_code);
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"crew {_code}", FleetRoles.Technician);
        return (station, browser);
    }
}
