using System.Globalization;
using System.Text.Json;

namespace StationFleet.Web.Tests.Cli;

public sealed class TrialVerbTests : IDisposable
{
    private const string Header = "received,at,name,unit,value";
    private static readonly DateTimeOffset Start = new(2026, 7, 1, 12, 0, 0, TimeSpan.Zero);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");

    private string Out => Path.Combine(_folder.FullName, "out", "trial.json");

    [Fact]
    public async Task Trial_raises_the_demos_tickets_from_its_simulated_files()
    {
        await SimulateVerbTests.StationFleetAsync(
            "simulate", "--fleet", DemoFleet.Path, "--from", "2026-07-01", "--to", "2026-07-07", "--out", _folder.FullName);

        (int code, string output, string error) = await RunAsync(DemoFleet.Path);

        error.Should().BeEmpty();
        code.Should().Be(0);
        output.Should().Contain("at 6 stations");
        JsonElement low = Tickets().Single(ticket => ticket.GetProperty("rule").GetString() == "lowCharge");
        low.GetProperty("station").GetString().Should().Be("OTT-1");
        low.GetProperty("sentence").GetString().Should().StartWith("The battery is at ").And.Contain("under its limit of 50 %");
        low.GetProperty("mails").EnumerateArray().Select(mail => mail.GetProperty("to").GetString())
            .Should().Equal("technician@juniper-basin.example");
        low.GetProperty("mails")[0].GetProperty("at").GetDateTimeOffset().Should().Be(low.GetProperty("raised").GetDateTimeOffset());
    }

    [Fact]
    public async Task Trial_sees_nothing_before_it_was_received()
    {
        // Measured at noon, known at six: the ticket cannot be older than the third reading's arrival.
        await FilesAsync(Header,
            Row(0, 0, "tank/fill", 0.5), Row(6 * 60, 10, "tank/fill", 0.9), Row(6 * 60, 15, "tank/fill", 0.9), Row(6 * 60 + 5, 20, "tank/fill", 0.9), Row(6 * 60 + 5, 20, "tank/fill", 0.9));

        await RunAsync(Bare());

        JsonElement tank = Tickets().Single(ticket => ticket.GetProperty("rule").GetString() == "tankFilling");
        tank.GetProperty("raised").GetDateTimeOffset().Should().Be(Start.AddMinutes(6 * 60 + 5));
    }

    [Fact]
    public async Task Trial_of_rows_in_any_order_is_the_same()
    {
        string[] rows = [Row(0, 0, "tank/fill", 0.5), Row(15, 10, "tank/fill", 0.9), Row(15, 12, "tank/fill", 0.9), Row(30, 20, "tank/fill", 0.91), Row(30, 25, "tank/fill", 0.91), Row(45, 40, "tank/fill", 0.2), Row(60, 50, "tank/fill", 0.2)];
        await FilesAsync(Header, rows);
        await RunAsync(Bare());
        string first = await File.ReadAllTextAsync(Out);

        await FilesAsync(Header, [.. rows.Reverse()]);
        await RunAsync(Bare());

        (await File.ReadAllTextAsync(Out)).Should().Be(first);
        first.Should().Contain("tankFilling");
    }

    [Fact]
    public async Task Trial_takes_one_file_with_a_column_for_the_station_and_says_what_it_leaves_out()
    {
        await File.WriteAllLinesAsync(Path.Combine(_folder.FullName, "all.csv"),
        [
            "station,at,name,unit,value,received",
            $"B-1,{Text(Start)},tank/fill,/,0.9,{Text(Start)}",
            $"B-1,{Text(Start.AddMinutes(2))},tank/fill,/,0.9,{Text(Start.AddMinutes(5))}",
            $"B-1,{Text(Start.AddMinutes(5))},tank/fill,/,0.9,{Text(Start.AddMinutes(5))}",
            $"B-1,{Text(Start.AddMinutes(5))},pond/frogs,,12,{Text(Start.AddMinutes(5))}",
            $"B-1,{Text(Start.AddMinutes(5))},battery/voltage,count,12,{Text(Start.AddMinutes(5))}",
            $"B-1,{Text(Start.AddHours(9))},tank/fill,/,0.2,{Text(Start.AddMinutes(6))}",
            $"X-9,{Text(Start)},tank/fill,/,0.9,{Text(Start)}",
        ]);

        (int code, string output, _) = await RunAsync(Bare());

        code.Should().Be(0);
        output.Should().Contain("Rows of X-9 are left out: the fleet file has no such station.");
        using JsonDocument trial = JsonDocument.Parse(await File.ReadAllTextAsync(Out));
        JsonElement station = trial.RootElement.GetProperty("stations")[0];
        station.GetProperty("setAside").GetInt32().Should().Be(2, "a count is no voltage, and nine hours ahead is no time");
        station.GetProperty("unknownNames")[0].GetString().Should().Be("pond/frogs");
        Tickets().Should().Contain(ticket => ticket.GetProperty("rule").GetString() == "tankFilling");
    }

    [Fact]
    public async Task Trial_closes_what_events_close_and_keeps_quiet_where_they_say_so()
    {
        List<string> rows = [];
        for (int minute = 0; minute < 4 * 24 * 60; minute += 15)
        {
            rows.Add(Row(minute, minute, "battery/charge", 0.3));
        }

        await FilesAsync(Header, [.. rows]);
        await File.WriteAllLinesAsync(Path.Combine(_folder.FullName, "events.csv"),
        [
            "at,station,event,until,rule,part,outcome",
            $"{Text(Start.AddHours(3))},B-1,ticket-closed,,Low charge,,nothing-wrong",
            $"{Text(Start.AddHours(40))},B-1,access-closed,{Text(Start.AddHours(60))},,,",
            $"{Text(Start.AddHours(41))},B-1,ticket-taken,,not-reporting,,",
        ]);

        (int code, _, string error) = await RunAsync(Bare());

        error.Should().BeEmpty();
        code.Should().Be(0);
        JsonElement low = Tickets().Single(ticket => ticket.GetProperty("rule").GetString() == "lowCharge");
        low.GetProperty("events").EnumerateArray().Select(happened => happened.GetProperty("kind").GetString())
            .Should().StartWith(["raised", "closed", "reopened"]);
        low.GetProperty("events")[2].GetProperty("at").GetDateTimeOffset().Should().Be(Start.AddHours(27));
        low.GetProperty("mails").GetArrayLength().Should().Be(2, "one when raised, one when reopened");
        using JsonDocument trial = JsonDocument.Parse(await File.ReadAllTextAsync(Out));
        trial.RootElement.GetProperty("stations")[0].GetProperty("eventsWithoutTicket").GetInt32().Should().Be(1);
    }

    [Fact]
    public async Task Trial_goes_on_to_the_day_it_is_told_and_hears_the_silence()
    {
        await FilesAsync(Header, Row(0, 0, "tank/fill", 0.5));

        await RunAsync(Bare(), "--to", "2026-07-02");

        JsonElement silence = Tickets().Single();
        silence.GetProperty("rule").GetString().Should().Be("notReporting");
        silence.GetProperty("state").GetString().Should().Be("new");
    }

    [Fact]
    public async Task Trial_obeys_its_schema()
    {
        await FilesAsync(Header, 
            Row(0, 0, "battery/charge", 0.55), Row(65, 65, "battery/charge", 0.55), Row(130, 130, "battery/charge", 0.55),
            Row(100, 100, "tank/fill", 0.9), Row(105, 105, "tank/fill", 0.9), Row(110, 110, "tank/fill", 0.9));
        await RunAsync(Bare());

        using JsonDocument trial = JsonDocument.Parse(await File.ReadAllTextAsync(Out));
        trial.RootElement.GetProperty("noticed")[0].GetProperty("since").GetDateTimeOffset().Should().Be(Start.AddMinutes(65));
        System.Text.Json.Nodes.JsonNode schema = System.Text.Json.Nodes.JsonNode.Parse(
            await File.ReadAllTextAsync(DemoFleet.Find("docs/trial-file.schema.json")))!;
        SchemaCheck.Faults(schema, System.Text.Json.Nodes.JsonNode.Parse(await File.ReadAllTextAsync(Out)), "$").Should().BeEmpty();
    }

    [Theory]
    [InlineData("--from", "2026-07-08", "--to", "2026-07-06", 2, "The last day lies before the first.")]
    [InlineData("--every", "0", "--to", "2026-07-06", 2, "The instants of judging must lie 1 to 1440 minutes apart.")]
    public async Task Trial_answers_wrong_use_with_2(string a, string b, string c, string d, int expected, string sentence)
    {
        (int code, _, string error) = await RunAsync(Bare(), a, b, c, d);

        code.Should().Be(expected);
        error.Trim().Should().Be(sentence);
    }

    [Theory]
    [InlineData("2026-07-01T12:00:00Z,B-1,ticket-closed,,No such rule,,fixed", "'No such rule' is no rule; known are IdleTool")]
    [InlineData("2026-07-01T12:00:00Z,B-1,party,,,,", "'party' is no event")]
    [InlineData("noon,B-1,visit,,,,", "'noon' is no RFC 3339 time")]
    [InlineData("2026-07-01T12:00:00Z,,visit,,,,", "the value 'station' is wanted")]
    public async Task Trial_names_the_event_that_it_cannot_read(string line, string expected)
    {
        await FilesAsync(Header, Row(0, 0, "tank/fill", 0.5));
        await File.WriteAllLinesAsync(Path.Combine(_folder.FullName, "events.csv"), ["at,station,event,until,rule,part,outcome", line]);

        (int code, _, string error) = await RunAsync(Bare());

        code.Should().Be(1);
        error.Should().Contain("events.csv, line 2: ").And.Contain(expected);
        File.Exists(Out).Should().BeFalse();
    }

    [Fact]
    public async Task Trial_answers_a_missing_folder_with_2_and_an_empty_one_with_no_tickets()
    {
        (int missing, _, string error) = await SimulateVerbTests.StationFleetAsync(
            "trial", "--fleet", Bare(), "--telemetry", Path.Combine(_folder.FullName, "nowhere"), "--out", Out);
        (int empty, string output, _) = await RunAsync(Bare());

        missing.Should().Be(2);
        error.Should().Contain("There is no folder");
        empty.Should().Be(0);
        output.Should().Contain("Nothing was recorded of B-1; it is not tried.").And.Contain("0 tickets at 0 stations");
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private static string Row(int receivedMinute, int minute, string name, double value) =>
        $"{Text(Start.AddMinutes(receivedMinute))},{Text(Start.AddMinutes(minute))},{name},,{value.ToString(CultureInfo.InvariantCulture)}";

    private static string Text(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private Task FilesAsync(string header, params string[] rows) => File.WriteAllLinesAsync(Path.Combine(_folder.FullName, "b-1.csv"), [header, .. rows]);

    // The least that a fleet file can say of a station.
    private string Bare()
    {
        string path = Path.Combine(_folder.FullName, "fleet.json");
        File.WriteAllText(path, """
            {
              "name": "Bare", "timeZone": "America/Boise", "agencies": [{ "name": "A" }], "accesses": [],
              "people": [{ "name": "P", "email": "p@bare.example", "role": "Technician" }],
              "stations": [{ "code": "B-1", "owner": "A", "created": "2026-01-01T00:00:00Z", "tools": [], "placements": [], "tanks": [{ "capacityLitres": 200 }] }]
            }
            """);
        return path;
    }

    private Task<(int Code, string Output, string Error)> RunAsync(string fleet, params string[] more) => SimulateVerbTests.StationFleetAsync(
        ["trial", "--fleet", fleet, "--telemetry", _folder.FullName, "--out", Out, .. more]);

    private List<JsonElement> Tickets() =>
        [.. JsonDocument.Parse(File.ReadAllText(Out)).RootElement.GetProperty("tickets").EnumerateArray()];
}
