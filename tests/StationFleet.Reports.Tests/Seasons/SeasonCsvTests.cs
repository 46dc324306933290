using System.Text;
using System.Text.Json;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Seasons;

namespace StationFleet.Reports.Tests.Seasons;

public sealed class SeasonCsvTests
{
    [Fact]
    public void The_same_season_gives_the_same_bytes()
    {
        foreach (string key in SeasonCsv.TableKeys)
        {
            SeasonCsv.Write(SampleSeason.Report(), key, isInvented: true)
                .Should().Equal(SeasonCsv.Write(SampleSeason.Report(), key, isInvented: true), key);
        }
    }

    [Fact]
    public void The_summary_has_a_row_for_each_station_and_a_column_for_each_figure()
    {
        string[][] rows = Rows("summary");

        rows[0].Should().Equal(["station", "place", .. SeasonDefinitions.All.Select(figure => figure.Key)]);
        rows.Skip(1).Select(row => row[0]).Should().Equal("COP-1", "OTT-1");
        Named(rows, "days_in_service").Should().Be("58");
        Named(rows, "uses").Should().Be("1955");
        Named(rows, "uses_on_uncertain_day").Should().Be("40");
        Named(rows, "litres_pumped_out").Should().Be("181.7", "machines always read litres");
        Named(rows, "litres_in_tank").Should().Be("52");
        Named(rows, "median_hours_to_close").Should().Be("30");
        Named(rows, "down_hours").Should().Be("78", "30 h of the closed ticket and 48 h of the open one");
        Named(rows, "mean_hours_active_repair").Should().Be("0.75");
    }

    [Fact]
    public void The_fleet_stands_in_a_table_of_its_own() =>
        Named(Rows("fleet"), "uses").Should().Be((1_955 + 2_655).ToString(System.Globalization.CultureInfo.InvariantCulture));

    [Fact]
    public void Uses_stand_by_station_tool_and_month() =>
        Text("uses-by-month", isInvented: false).Should().Contain("COP-1,brush,Hull brush,Brush,2026-06-01,740,40,1\r\n");

    [Fact]
    public void A_tool_named_like_a_formula_is_made_harmless() =>
        Encoding.UTF8.GetString(SeasonCsv.Write(SampleSeason.Report("=cmd|' /C calc'!A0"), "uses-by-month", isInvented: false)!)
            .Should().Contain(",'=cmd|' /C calc'!A0,").And.NotContain(",=cmd");

    [Fact]
    public void Invented_data_says_so_in_every_row() =>
        Text("tickets", isInvented: true).Split("\r\n", StringSplitOptions.RemoveEmptyEntries)
            .Skip(1).Should().OnlyContain(line => line.EndsWith(",Invented data", StringComparison.Ordinal));

    [Fact]
    public void The_year_before_stands_beside_with_its_verdict()
    {
        Text("comparison", isInvented: false).Should().Contain("\r\nTool uses,,,4610,0,,")
            .And.Contain("\r\nOrganisms removed,\"Quagga mussel, veliger, Copperline Reservoir\",,").And.Contain(",more than noise\r\n");
    }

    [Fact]
    public void Organisms_stand_with_limits_and_a_month_without_a_sample_is_named_and_never_zero()
    {
        string removed = Text("organisms-removed", isInvented: false);
        string[] june = [.. Text("organisms-by-month", isInvented: false).Split("\r\n").Where(line => line.Contains("veliger") && line.Contains("2026-06-01"))];

        removed.Split("\r\n")[1].Should().StartWith("2026,Copperline Reservoir,\"Quagga mussel, veliger\",").And.Contain(",expanded,").And.Contain(",5,10,1800,0.5,5,6,");
        removed.Should().Contain("Spiny waterflea").And.NotContain("Secret snail", "nobody released it");
        june.Should().ContainSingle().Which.Should().Be("2026,Copperline Reservoir,\"Quagga mussel, veliger\",2026-06-01,,,,0,0,0,720,no sample");
        Text("data-quality", isInvented: false).Should().Contain("COP-1,Three records that came in on these days could not be counted and are set aside.\r\n");
    }

    [Fact]
    public void There_is_no_table_of_another_name() =>
        SeasonCsv.Write(SampleSeason.Report(), "users", isInvented: false).Should().BeNull();

    [Fact]
    public void The_description_names_every_column_of_every_file()
    {
        using JsonDocument json = JsonDocument.Parse(SeasonCsv.Describe(SampleSeason.Report(), SampleSeason.Frame, key => $"season/{key}.csv"));

        json.RootElement.GetProperty("note").GetString().Should().Be("Invented data");
        JsonElement[] tables = [.. json.RootElement.GetProperty("tables").EnumerateArray()];
        tables.Select(table => table.GetProperty("url").GetString()).Should().Equal(SeasonCsv.TableKeys.Select(key => $"season/{key}.csv"));
        foreach ((string key, JsonElement table) in SeasonCsv.TableKeys.Zip(tables))
        {
            table.GetProperty("columns").EnumerateArray().Select(column => column.GetProperty("name").GetString())
                .Should().Equal(Text(key, isInvented: true).Split("\r\n")[0].Split(','), key);
            table.GetProperty("columns").EnumerateArray().Should().OnlyContain(column => column.GetProperty("definition").GetString()!.Length > 5);
        }
    }

    private static string Named(string[][] rows, string column) => rows[1][Array.IndexOf(rows[0], column)];

    // The sample's numbers need no quotes; the one place that does holds a comma, and is read as one field here.
    private static string[][] Rows(string key) =>
    [
        .. Text(key, isInvented: false).Replace("\"Dam Road access, Copperline Reservoir\"", "place", StringComparison.Ordinal)
            .Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(',')),
    ];

    private static string Text(string key, bool isInvented) =>
        Encoding.UTF8.GetString(SeasonCsv.Write(SampleSeason.Report(), key, isInvented)!);
}
