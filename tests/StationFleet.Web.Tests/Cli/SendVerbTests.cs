using StationFleet.Storage.Fleet;

namespace StationFleet.Web.Tests.Cli;

public sealed class SendVerbTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task Send_posts_a_file_and_counts_what_became_of_it()
    {
        Station station = await app.Databases.AddStationAsync("SEND-1");
        string key = await app.AddKeyAsync(station.Id);
        string file = Path.Combine(app.DataFolder, "send.csv");
        await File.WriteAllLinesAsync(file,
        [
            "received,at,name,unit,value",
            "2026-07-08T12:00:20Z,2026-07-08T12:00:00Z,tank/fill,/,0.41",
            "2026-07-08T12:00:20Z,2026-07-08T12:00:00Z,tools/brush/uses,count,12",
            "2026-07-08T12:15:20Z,2026-07-08T12:15:00Z,tank/fill,/,0.42",
            "2026-07-08T12:15:20Z,2026-07-08T12:15:00Z,tank/fill,V,12.1",
        ]);

        (int first, string firstSays, string error) = await SendAsync(key, file);
        (int second, string secondSays, _) = await SendAsync(key, file);

        error.Should().BeEmpty();
        first.Should().Be(0);
        firstSays.Trim().Should().Be("accepted 3, repeated 0, set aside 1");
        second.Should().Be(0);
        secondSays.Trim().Should().Be("accepted 0, repeated 3, set aside 1");
    }

    [Fact]
    public async Task Send_says_in_a_sentence_that_the_key_is_not_known()
    {
        string file = Path.Combine(app.DataFolder, "one.csv");
        await File.WriteAllLinesAsync(file, ["at,name,unit,value", "2026-07-08T12:00:00Z,tank/fill,/,0.41"]);

        (int code, string output, string error) = await SendAsync("sfk_abcdefgh_abcdefghijklmnopqrstuvwxyz234567", file);

        code.Should().Be(1);
        output.Should().BeEmpty();
        error.Trim().Should().StartWith("The server refused the report with 401").And.EndWith(".").And.NotContain("\n");
    }

    [Theory]
    [InlineData("time,value", "does not begin with")]
    [InlineData("at,name,unit,value\n2026-07-08T12:00:00Z,tank/fill,/", "line 2")]
    [InlineData("at,name,unit,value\nyesterday,tank/fill,/,0.4", "'yesterday' is no RFC 3339 time")]
    [InlineData("at,name,unit,value\n2026-07-08T12:00:00Z,tank/fill,/,much", "a finite number")]
    public async Task Send_names_the_line_that_it_cannot_read(string content, string expected)
    {
        string file = Path.Combine(app.DataFolder, $"{Guid.NewGuid():N}.csv");
        await File.WriteAllTextAsync(file, content);

        (int code, _, string error) = await SendAsync("any", file);

        code.Should().Be(1);
        error.Should().Contain(expected);
    }

    [Theory]
    [InlineData("localhost", "60", "'localhost' is no address such as http://localhost:5080.")]
    [InlineData("http://localhost:5080", "0", "The rate must be above nought.")]
    public async Task Send_answers_wrong_use_with_2_and_a_sentence(string url, string rate, string sentence)
    {
        string file = Path.Combine(app.DataFolder, $"{Guid.NewGuid():N}.csv");
        await File.WriteAllLinesAsync(file, ["at,name,unit,value"]);

        (int code, _, string error) = await SimulateVerbTests.StationFleetAsync("send", "--url", url, "--key", "any", "--file", file, "--rate", rate);

        code.Should().Be(2);
        error.Trim().Should().Be(sentence);
    }

    [Fact]
    public async Task Send_answers_a_missing_file_with_2()
    {
        (int code, _, string error) = await SendAsync("any", Path.Combine(app.DataFolder, "nowhere.csv"));

        code.Should().Be(2);
        error.Should().Contain("There is no file");
    }

    private Task<(int Code, string Output, string Error)> SendAsync(string key, string file) => SimulateVerbTests.StationFleetAsync(
        "send", "--url", app.Address.ToString(), "--key", key, "--file", file, "--rate", "6000");
}
