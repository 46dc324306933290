using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Telemetry.LoggerFiles;
using static StationFleet.Web.Tests.Cli.SimulateVerbTests;

namespace StationFleet.Web.Tests.Cli;

public sealed class ImportVerbTests(FleetApp app) : IClassFixture<FleetApp>
{
    private const string Table = """
        Date/Time;Battery Voltage (mV);vacuum uses;Remark
        07/02/2026 06:00;12800;1042;ok
        07/02/2026 06:15;12750;1043;
        07/02/2026 06:30;;1044;rain
        soon;12700;1045;
        """;

    [Fact]
    public async Task Import_goes_through_a_running_server_with_the_station_s_key_and_a_second_time_adds_nothing()
    {
        Station station = await app.Databases.AddStationAsync("IMP-1");
        string file = Write("server.csv", Table);
        string[] arguments =
        [
            "import", file, "--server", app.Address.ToString(), "--key", await app.AddKeyAsync(station.Id), "--zone", "America/Boise",
            "--series", "Battery Voltage (mV)=battery/voltage:mV", "--series", "vacuum uses=tools/vacuum/uses",
        ];

        (int code, string output, string error) = await StationFleetAsync(arguments);
        (_, string again, _) = await StationFleetAsync(arguments);

        error.Should().BeEmpty();
        code.Should().Be(0);
        output.Should().Contain("new 5, repeated 0, set aside 1").And.Contain("1 × line 5: 'soon' is no time such as 7/2/2026 6:00 AM.");
        again.Should().Contain("new 0, repeated 5, set aside 1");
        DateTimeOffset six = new(2026, 7, 2, 12, 0, 0, TimeSpan.Zero);
        (await app.Get<MeasurementReader>().RangeAsync(station.Id, ["battery/voltage"], six.AddHours(-1), six.AddHours(1), CancellationToken.None))
            .Should().Equal(new Measurement("battery/voltage", six, 12.8), new Measurement("battery/voltage", six.AddMinutes(15), 12.75));
        (await app.Get<MeasurementReader>().LastHeardAsync(CancellationToken.None)).Should().NotContainKey(station.Id, "a card is no sign of life");
    }

    [Fact]
    public async Task Import_waits_while_the_server_says_that_there_are_too_many_reports()
    {
        Station station = await app.Databases.AddStationAsync("IMP-2");
        string key = await app.AddKeyAsync(station.Id);
        DateTimeOffset first = FleetApp.Start.AddDays(-9);
        string file = Write("long.csv", string.Join('\n', Enumerable.Range(0, 10 * 200)
            .Select(i => $"{first.AddMinutes(i).UtcDateTime:yyyy-MM-ddTHH:mm:ssZ},soil/temp,,1").Prepend("at,name,unit,value")));
        await UseUpAsync(key);

        (int code, string output, string error) = await StationFleetAsync("import", file, "--server", app.Address.ToString(), "--key", key);

        (code, error).Should().Be((0, ""), "ten packs are more than the two a second that are left");
        output.Should().Contain("new 2000, repeated 0, set aside 0");
    }

    // Sends what is no report until the key's share of reports is used up.
    private async Task UseUpAsync(string key)
    {
        HttpStatusCode status = default;
        while (status != HttpStatusCode.TooManyRequests)
        {
            using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports") { Content = new StringContent("[]", Encoding.UTF8, "application/json") };
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
            using HttpResponseMessage answer = await app.Http.SendAsync(request);
            status = answer.StatusCode;
        }
    }

    [Fact]
    public async Task Import_writes_into_a_folder_whose_server_does_not_run()
    {
        await using FleetFolder folder = await FleetFolder.MakeAsync();
        string file = Write("data.csv", Table);
        string[] arguments = ["import", file, "--data", folder.Path, "--station", "COP-1"];

        (int code, string output, string error) = await StationFleetAsync(arguments);
        (_, string again, _) = await StationFleetAsync(arguments);

        (code, error).Should().Be((0, ""));
        output.Should().Contain("by America/Boise; battery/voltage [mV] from 'Battery Voltage (mV)', vacuum-uses from 'vacuum uses'.")
            .And.Contain("new 5, repeated 0, set aside 1").And.Contain("new readings from 2026-07-02T12:00:00Z to 2026-07-02T12:30:00Z");
        again.Should().Contain("new 0, repeated 5, set aside 1");
        await using FleetDbContext db = folder.Database.CreateDbContext();
        (await db.LoggerFileImports.OrderBy(import => import.Id).Select(import => new { import.Who, import.FileName, import.End }).ToListAsync())
            .Should().AllBeEquivalentTo(new { Who = "command line", FileName = "data.csv", End = ImportEnd.Done }).And.HaveCount(2);
    }

    [Fact]
    public async Task Import_refuses_a_folder_that_a_server_works_on()
    {
        await app.Databases.AddStationAsync("IMP-3");

        (int code, _, string error) = await StationFleetAsync("import", Write("held.csv", Table), "--data", app.DataFolder, "--station", "IMP-3");

        code.Should().Be(1);
        error.Should().StartWith("A server runs on").And.Contain("--server");
    }

    [Theory]
    [InlineData("Say where to", "--station", "COP-1")]
    [InlineData("There is no database", "--data", "/nowhere", "--station", "COP-1")]
    [InlineData("Say the station's key", "--server", "http://localhost:1")]
    [InlineData("say by --zone which clock", "--server", "http://localhost:1", "--key", "k")]
    [InlineData("has no column 'colour'", "--server", "http://localhost:1", "--key", "k", "--zone", "UTC", "--time", "colour")]
    [InlineData("is no zone such as", "--server", "http://localhost:1", "--key", "k", "--zone", "Nowhere/Else")]
    public async Task Import_answers_wrong_use_with_2_and_a_sentence(string sentence, params string[] options)
    {
        (int code, string output, string error) = await StationFleetAsync(["import", Write("wrong.csv", Table), .. options]);

        (code, output).Should().Be((2, ""));
        error.Trim().Should().Contain(sentence).And.EndWith(".").And.NotContain("\n");
    }

    [Fact]
    public async Task A_dry_run_says_how_a_file_is_read_and_stores_nothing()
    {
        Station station = await app.Databases.AddStationAsync("IMP-4");

        (int code, string output, _) = await StationFleetAsync(
            "import", Write("dry.csv", Table), "--server", app.Address.ToString(), "--key", await app.AddKeyAsync(station.Id), "--zone", "-07:00", "--dry-run");

        code.Should().Be(0);
        output.Trim().Should().Be("dry.csv: times MonthFirst from 'Date/Time' by -07:00; battery/voltage [mV] from 'Battery Voltage (mV)', vacuum-uses from 'vacuum uses'.");
        (await app.Get<MeasurementReader>().NamesAsync(station.Id, CancellationToken.None)).Should().BeEmpty();
    }

    private string Write(string name, string content)
    {
        string path = Path.Combine(app.DataFolder, name);
        File.WriteAllText(path, content);
        return path;
    }
}
