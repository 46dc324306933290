using System.Text.Json;

namespace StationFleet.Web.Tests.Cli;

public sealed class QualityVerbTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");

    [Fact]
    public async Task Quality_prints_tables_and_writes_the_same_as_JSON()
    {
        string file = Path.Combine(_folder.FullName, "quality.json");

        (int code, string output, string error) = await SimulateVerbTests.StationFleetAsync(
            "quality", "--seeds", "tuning", "--level", "quiet", "--world", "harder", "--people", "nobody", "--seasons", "3", "--out", file);

        error.Should().BeEmpty();
        code.Should().Be(0);
        output.Should().Contain("### Quiet: 2.9 boats a day, 3 station-seasons (1 healthy)").And.Contain("| Idle tool |").And.Contain("| all |");
        using JsonDocument json = JsonDocument.Parse(await File.ReadAllTextAsync(file));
        json.RootElement.GetProperty("world").GetString().Should().Be("harder");
        json.RootElement.GetProperty("scores")[0].GetProperty("rules").EnumerateArray()
            .Should().Contain(rule => rule.GetProperty("rule").GetString() == "IdleTool");
    }

    [Theory]
    [InlineData("--seasons", "2", "At least 3 seasons are needed: the first of each three is healthy.")]
    [InlineData("--level", "crowded", "'crowded'")]
    public async Task Quality_answers_wrong_use_with_2(string option, string value, string expected)
    {
        (int code, string output, string error) = await SimulateVerbTests.StationFleetAsync("quality", option, value);

        code.Should().Be(2);
        output.Should().BeEmpty();
        error.Should().Contain(expected);
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
