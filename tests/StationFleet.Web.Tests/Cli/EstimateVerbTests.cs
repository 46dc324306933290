using System.Text.Json;
using System.Text.Json.Nodes;

namespace StationFleet.Web.Tests.Cli;

public sealed class EstimateVerbTests : IDisposable
{
    private const string Chain = """
        {
          "periods": [{
            "id": "P", "station": "COP-1", "from": "2026-06-15", "to": "2026-06-28",
            "water": { "litres": 120, "sdLitres": 6, "leftLitres": 0 },
            "grabs": [
              { "id": "A", "litres": 10, "concentratedMl": 50, "aliquots": [{ "examinedMl": 5, "counts": [{ "taxon": "quagga mussel", "lifeStage": "veliger", "count": 4 }] }] },
              { "id": "B", "litres": 10, "concentratedMl": 50, "aliquots": [{ "examinedMl": 5, "counts": [{ "taxon": "quagga mussel", "lifeStage": "veliger", "count": 9 }] }] },
              { "id": "C", "litres": 10, "concentratedMl": 50, "aliquots": [{ "examinedMl": 5, "counts": [{ "taxon": "quagga mussel", "lifeStage": "veliger", "count": 5 }] }] }
            ],
            "blanks": []
          }]
        }
        """;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");

    private string In => Path.Combine(_folder.FullName, "chains.json");

    private string Out => Path.Combine(_folder.FullName, "out", "estimates.json");

    [Fact]
    [Source("test vector T7, computed with mpmath 1.3 and R 4.2.2 (independent programs): 720 (362.565 to 1652.47)")]
    public async Task Estimate_makes_of_three_grabs_the_computed_interval_and_its_sentence()
    {
        (int code, string output, string error) = await RunAsync(Chain);

        error.Should().BeEmpty();
        code.Should().Be(0);
        output.Should().StartWith("1 estimate; written to ");
        JsonElement estimate = Result().GetProperty("estimates")[0];
        JsonElement organisms = estimate.GetProperty("organisms");
        organisms.GetProperty("value").GetDouble().Should().BeApproximately(720, 1e-9);
        organisms.GetProperty("low").GetDouble().Should().BeApproximately(362.565, 0.0006);
        organisms.GetProperty("high").GetDouble().Should().BeApproximately(1652.47, 0.006);
        estimate.GetProperty("sentence").GetString().Should().Be(
            "About 720 (363 to 1,650) quagga mussel veligers were in the 120 L collected from 15 to 28 June; alive or dead not determined; not a count of introductions prevented.");
        estimate.GetProperty("labels").EnumerateArray().Select(label => label.GetProperty("code").GetString())
            .Should().Equal("inCollectedWater", "fateNotDetermined");
    }

    [Fact]
    public async Task Estimate_of_an_invented_season_follows_its_schemas_and_says_what_is_missing()
    {
        string example = DemoFleet.Find("demo-data/chains.json");

        (int code, string output, _) = await SimulateVerbTests.StationFleetAsync("estimate", "--in", example, "--out", Out);

        code.Should().Be(0);
        output.Should().StartWith("12 estimates, 1 of them withheld");
        Faults("docs/chains-file.schema.json", example).Should().BeEmpty();
        Faults("docs/estimates-file.schema.json", Out).Should().BeEmpty();
        Result().GetProperty("estimates").EnumerateArray().Select(one => one.GetProperty("sentence").GetString())
            .Should().Contain("No estimate of quagga mussel veligers from 29 June to 10 July: a blank of the same batch had them in it.");
        Result().GetProperty("seasons")[0].GetProperty("sentence").GetString().Should().Contain("not estimated for July");
        Result().GetProperty("months")[0].GetProperty("toTellMore").GetString().Should().Be("To rank them, sample at least three tank periods in May and July.");
        Result().GetProperty("usesPerBoat").GetProperty("pairs").GetInt32().Should().Be(4);
        JsonElement share = Result().GetProperty("shareOfLeavingBoats").GetProperty("share");
        share.GetProperty("value").GetDouble().Should().BeInRange(0.29, 0.33);
        share.GetProperty("low").GetDouble().Should().BeLessThan(share.GetProperty("value").GetDouble());
    }

    [Fact]
    public async Task Estimate_plans_a_season_and_the_grabs_of_a_tank()
    {
        await SimulateVerbTests.StationFleetAsync("estimate", "--in", DemoFleet.Find("demo-data/chains.json"), "--out", Out);

        JsonElement calendar = Result().GetProperty("calendar");
        calendar.GetProperty("samples").EnumerateArray().Should().HaveCount(10, "2,400 pays for ten samples of 240");
        calendar.GetProperty("samples")[0].GetProperty("reason").GetString().Should().Be("firstOfMonth");
        calendar.GetProperty("months").EnumerateArray().Should().OnlyContain(month => month.GetProperty("samples").GetInt32() == 2);
        JsonElement flea = Result().GetProperty("tankPlans")[1];
        flea.GetProperty("toDetect").GetString().Should().Be(
            "For a 95 % probability of detection at one organism per 10 L, examine 30 L of well-mixed tank water.");
        flea.GetProperty("options").EnumerateArray().Should().HaveCount(8);
        Result().GetProperty("tankPlans")[0].GetProperty("patchinessIsMeasured").GetBoolean().Should().BeTrue();
    }

    [Theory]
    [InlineData("\"planTanks\": [{ \"taxon\": \"x\", \"perLitre\": 0, \"litresPerGrab\": 1 }], \"periods\"", "A tank to plan needs")]
    [InlineData("\"planSeason\": { \"pumpOuts\": [], \"budget\": 10, \"costPerSample\": 0 }, \"periods\"", "A plan's budget")]
    public async Task Estimate_tells_what_is_wrong_with_a_plan(string periods, string expected)
    {
        (int code, _, string error) = await RunAsync(Chain.Replace("\"periods\"", periods, StringComparison.Ordinal));

        code.Should().Be(1);
        error.Should().StartWith(expected);
    }

    [Fact]
    public async Task Estimate_twice_gives_the_same_bytes()
    {
        await RunAsync(Chain);
        byte[] first = await File.ReadAllBytesAsync(Out);

        await RunAsync(Chain);

        (await File.ReadAllBytesAsync(Out)).Should().Equal(first);
    }

    [Theory]
    [InlineData("\"count\": 4", "\"count\": -4", "Grab A has a count below 0.")]
    [InlineData("\"examinedMl\": 5", "\"examinedMl\": 51", "Of grab A 51 mL were looked through, but it was concentrated to 50 mL. (2 more faults.)")]
    [InlineData("\"id\": \"B\"", "\"id\": \"A\"", "Two grabs of period P have the same name; aliquots of one grab belong into that grab.")]
    [InlineData("\"to\": \"2026-06-28\"", "\"to\": \"2026-06-01\"", "Period P ends before it begins.")]
    public async Task Estimate_tells_a_contradiction_in_a_sentence_and_writes_nothing(string good, string bad, string expected)
    {
        (int code, _, string error) = await RunAsync(Chain.Replace(good, bad, StringComparison.Ordinal));

        code.Should().Be(1);
        error.Trim().Should().Be(expected);
        File.Exists(Out).Should().BeFalse();
    }

    [Theory]
    [InlineData("\"count\": 4", "\"count\": \"four\"", "line 6")]
    [InlineData("\"count\": 4", "\"count\": 4.5", "line 6")]
    [InlineData("\"litres\": 120", "\"gallons\": 120", "gallons")]
    [InlineData("\"blanks\": []", "\"blanks\": null", "blanks")]
    [InlineData("\"periods\": [{", "\"periods\": [", "chains.json")]
    [InlineData("\"litres\": 120, \"sdLitres\": 6", "\"litres\": 120", "sdLitres")]
    public async Task Estimate_tells_where_a_file_is_not_as_described(string good, string bad, string named)
    {
        (int code, _, string error) = await RunAsync(Chain.Replace(good, bad, StringComparison.Ordinal));

        code.Should().Be(1);
        error.Trim().Should().StartWith("chains.json").And.Contain(named).And.NotContain("\n").And.EndWith(".");
    }

    [Fact]
    public async Task Estimate_without_a_file_is_wrong_use()
    {
        (int code, _, string error) = await SimulateVerbTests.StationFleetAsync("estimate", "--in", In, "--out", Out);

        code.Should().Be(2);
        error.Should().StartWith("There is no file ");
    }

    [Fact]
    public async Task Coverage_prints_a_row_for_each_regime_and_the_same_for_the_same_seed()
    {
        (int code, string first, string error) = await SimulateVerbTests.StationFleetAsync("coverage", "--runs", "5", "--seed", "3");
        (_, string second, _) = await SimulateVerbTests.StationFleetAsync("coverage", "--runs", "5", "--seed", "3");
        (_, string other, _) = await SimulateVerbTests.StationFleetAsync("coverage", "--runs", "5", "--seed", "4");

        error.Should().BeEmpty();
        code.Should().Be(0);
        first.Should().Contain("| 3 grabs of 1, 2, 4 L, 4 other tanks of the same | k = 1 | 0.05 |").And.Contain("Least coverage with three grabs or more");
        second.Should().Be(first);
        other.Should().NotBe(first);
    }

    [Fact]
    public async Task Coverage_of_no_runs_is_wrong_use()
    {
        (int code, _, string error) = await SimulateVerbTests.StationFleetAsync("coverage", "--runs", "0");

        (code, error.Trim()).Should().Be((2, "At least one run is needed."));
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private async Task<(int Code, string Output, string Error)> RunAsync(string chains)
    {
        await File.WriteAllTextAsync(In, chains);
        return await SimulateVerbTests.StationFleetAsync("estimate", "--in", In, "--out", Out);
    }

    private JsonElement Result()
    {
        using JsonDocument result = JsonDocument.Parse(File.ReadAllText(Out));
        return result.RootElement.Clone();
    }

    private static IEnumerable<string> Faults(string schema, string file) =>
        SchemaCheck.Faults(JsonNode.Parse(File.ReadAllText(DemoFleet.Find(schema)))!, JsonNode.Parse(File.ReadAllText(file)), "$");
}
