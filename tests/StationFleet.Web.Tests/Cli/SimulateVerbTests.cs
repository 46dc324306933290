using System.Text.Json;
using StationFleet.Cli;

namespace StationFleet.Web.Tests.Cli;

public sealed class SimulateVerbTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");

    [Fact]
    public async Task Simulate_writes_a_long_CSV_for_each_station_and_the_truth()
    {
        (int code, string output, string error) = await RunAsync("--from", "2026-07-06", "--to", "2026-07-07");

        error.Should().BeEmpty();
        code.Should().Be(0);
        output.Should().Contain("reports of 6 stations");
        Directory.GetFiles(_folder.FullName).Select(Path.GetFileName).Should().BeEquivalentTo(
            "COP-1.csv", "COP-2.csv", "OTT-1.csv", "SOR-1.csv", "PORT-A.csv", "PORT-B.csv", "truth.json");
        File.ReadLines(Path.Combine(_folder.FullName, "COP-1.csv")).First().Should().Be("received,at,name,unit,value");
        using JsonDocument truth = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(_folder.FullName, "truth.json")));
        truth.RootElement.GetProperty("days").GetArrayLength().Should().Be(12, "six stations worked on both days");
    }

    [Fact]
    public async Task Simulate_says_the_same_twice_and_something_else_with_another_seed()
    {
        await RunAsync("--from", "2026-07-06", "--to", "2026-07-06");
        string first = await File.ReadAllTextAsync(Path.Combine(_folder.FullName, "COP-1.csv"));
        await RunAsync("--from", "2026-07-06", "--to", "2026-07-06");
        string again = await File.ReadAllTextAsync(Path.Combine(_folder.FullName, "COP-1.csv"));
        await RunAsync("--from", "2026-07-06", "--to", "2026-07-06", "--seed", "7");
        string other = await File.ReadAllTextAsync(Path.Combine(_folder.FullName, "COP-1.csv"));

        again.Should().Be(first);
        other.Should().NotBe(first);
    }

    [Theory]
    [InlineData("2026-07-08", "2026-07-06", "The last day lies before the first.")]
    [InlineData("8 July", "2026-07-06", "'8 July' is no day such as 2026-05-01.")]
    public async Task Simulate_answers_wrong_use_with_2_and_a_sentence(string from, string to, string sentence)
    {
        (int code, string output, string error) = await RunAsync("--from", from, "--to", to);

        code.Should().Be(2);
        output.Should().BeEmpty();
        error.Trim().Should().Be(sentence);
    }

    [Fact]
    public async Task Simulate_answers_a_broken_fleet_file_with_1_and_a_sentence()
    {
        string broken = Path.Combine(_folder.FullName, "broken.json");
        await File.WriteAllTextAsync(broken, "{ \"name\": 3 }");

        (int code, _, string error) = await StationFleetAsync(
            "simulate", "--fleet", broken, "--from", "2026-07-06", "--to", "2026-07-06", "--out", _folder.FullName);

        code.Should().Be(1);
        error.Trim().Should().StartWith("The fleet file").And.EndWith(".").And.NotContain("\n");
    }

    [Theory]
    [InlineData("simulate")]
    [InlineData("send")]
    [InlineData("import")]
    [InlineData("verify")]
    [InlineData("trial")]
    [InlineData("quality")]
    public async Task Each_verb_explains_itself(string verb)
    {
        (int code, string output, _) = await StationFleetAsync(verb, "--help");

        code.Should().Be(0);
        output.Should().Contain("Usage").And.Contain("--");
    }

    public void Dispose() => _folder.Delete(recursive: true);

    internal static async Task<(int Code, string Output, string Error)> StationFleetAsync(params string[] arguments)
    {
        using StringWriter output = new();
        using StringWriter error = new();
        int code = await StationFleetCommand.RunAsync(arguments, output, error);
        return (code, output.ToString(), error.ToString());
    }

    private Task<(int Code, string Output, string Error)> RunAsync(params string[] arguments) =>
        StationFleetAsync(["simulate", "--fleet", DemoFleet.Path, "--out", _folder.FullName, .. arguments]);
}
