using System.Text;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using static StationFleet.Web.Tests.Cli.SimulateVerbTests;

namespace StationFleet.Web.Tests.Cli;

public sealed class ReportVerbTests
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 2, 18, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task Each_format_is_written_and_the_same_data_give_the_same_bytes()
    {
        await using FleetFolder folder = await FilledAsync();
        string to = Directory.CreateDirectory(Path.Combine(folder.Path, "out")).FullName;

        foreach (string format in new[] { "pdf", "xlsx", "json", "txt" })
        {
            (int code, string output, string error) = await ReportAsync(folder, format, Path.Combine(to, $"season.{format}"));
            (code, error).Should().Be((0, ""));
            output.Should().Contain("95 tool uses");
        }

        (await ReportAsync(folder, "csv", Path.Combine(to, "first"))).Code.Should().Be(0);
        (await ReportAsync(folder, "csv", Path.Combine(to, "second"))).Code.Should().Be(0);

        Encoding.ASCII.GetString((await File.ReadAllBytesAsync(Path.Combine(to, "season.pdf")))[..5]).Should().Be("%PDF-");
        (await File.ReadAllTextAsync(Path.Combine(to, "season.txt"))).Should().Contain("Season 2026, 1 May to 15 October").And.Contain("95 tool uses");
        string[] tables = [.. Directory.GetFiles(Path.Combine(to, "first")).Select(path => Path.GetFileName(path)!)];
        tables.Should().Contain(["summary.csv", "fleet.csv", "tickets.csv"]);
        foreach (string table in tables)
        {
            (await File.ReadAllBytesAsync(Path.Combine(to, "first", table))).Should().Equal(await File.ReadAllBytesAsync(Path.Combine(to, "second", table)), table);
        }
    }

    [Fact]
    public async Task Any_days_are_counted_and_two_parts_make_the_whole()
    {
        await using FleetFolder folder = await FilledAsync();

        string whole = await UsesAsync(folder, "2026-07-01", "2026-07-31");
        int first = int.Parse(await UsesAsync(folder, "2026-07-01", "2026-07-02"), System.Globalization.CultureInfo.InvariantCulture);
        int second = int.Parse(await UsesAsync(folder, "2026-07-03", "2026-07-31"), System.Globalization.CultureInfo.InvariantCulture);

        whole.Should().Be("95");
        (first + second).Should().Be(95);
        first.Should().BeInRange(1, 94);
    }

    [Theory]
    [InlineData("--award", "no-such-award")]
    [InlineData("--owner", "Nobody")]
    [InlineData("--access", "nowhere")]
    public async Task A_part_that_is_not_there_is_wrong_use(string option, string value)
    {
        await using FleetFolder folder = await FilledAsync();

        (int code, _, string error) = await StationFleetAsync("report", "--data", folder.Path, "--season", "2026", "--format", "txt", option, value);

        (code, error.Trim()).Should().Be((2, $"There is no station of this access, award and owner in {folder.Database.Path}."));
    }

    [Fact]
    public async Task An_award_an_owner_and_an_access_cut_the_report()
    {
        await using FleetFolder folder = await FilledAsync();
        await using (FleetDbContext db = folder.Database.CreateDbContext())
        {
            Award award = new() { Number = "AW-7", Title = "Clean boats", Funder = "State", Starts = new DateOnly(2026, 1, 1), Ends = new DateOnly(2026, 12, 31), TermsId = 1 };
            db.Add(award);
            await db.SaveChangesAsync();
            db.Add(new AwardStation { AwardId = award.Id, StationId = folder.Station.Id });
            await db.SaveChangesAsync();
        }

        string file = Path.Combine(folder.Path, "award.txt");
        (int code, string output, string error) = await StationFleetAsync(
            "report", "--data", folder.Path, "--season", "2026", "--format", "txt", "--out", file, "--award", "AW-7", "--as-of", "2026-12-01T00:00:00Z");

        (code, error).Should().Be((0, ""));
        output.Should().Contain("95 tool uses");
        (await File.ReadAllTextAsync(file)).Should().Contain("Season 2026, 1 May to 15 October, award AW-7");
    }

    private static async Task<string> UsesAsync(FleetFolder folder, string from, string to)
    {
        string file = Path.Combine(folder.Path, "part.txt");
        (int code, string output, string error) = await StationFleetAsync(
            "report", "--data", folder.Path, "--from", from, "--to", to, "--format", "txt", "--out", file, "--as-of", "2026-12-01T00:00:00Z");
        (code, error).Should().Be((0, ""));
        return output.Split("; ")[1].Split(' ')[0];
    }

    [Theory]
    [InlineData("--season", "2026", "--format", "doc")]
    [InlineData("--season", "this", "--format", "pdf")]
    [InlineData("--format", "txt")]
    [InlineData("--from", "2026-07-03", "--to", "2026-07-02", "--format", "txt")]
    [InlineData("--season", "2026", "--format", "txt", "--station", "NOWHERE-9")]
    [InlineData("--season", "2026", "--format", "txt", "--as-of", "yesterday")]
    [InlineData("--season", "2026", "--format", "txt", "--first-day", "May 1")]
    public async Task Wrong_use_is_answered_with_2_and_one_sentence(params string[] arguments)
    {
        await using FleetFolder folder = await FleetFolder.MakeAsync();

        (int code, _, string error) = await StationFleetAsync(["report", "--data", folder.Path, .. arguments]);

        code.Should().Be(2);
        error.Trim().Should().NotBeEmpty().And.NotContain("   at ");
    }

    private static Task<(int Code, string Output, string Error)> ReportAsync(FleetFolder folder, string format, string to) => StationFleetAsync(
        "report", "--data", folder.Path, "--season", "2026", "--format", format, "--out", to, "--as-of", "2026-12-01T00:00:00Z");

    private static async Task<FleetFolder> FilledAsync()
    {
        FleetFolder folder = await FleetFolder.MakeAsync();
        await using MeasurementWriter writer = new(folder.Database);
        (await writer.WriteAsync(
            FleetBuilders.Report(folder.Station, [.. Enumerable.Range(0, 96).Select(i => new Measurement(MeasurementName.Uses("vacuum"), Noon.AddMinutes(15 * i), i))]),
            CancellationToken.None)).Should().BeOfType<WriteOutcome.Stored>();
        return folder;
    }
}
