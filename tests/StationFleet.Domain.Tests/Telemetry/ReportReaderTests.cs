using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Telemetry;

public sealed class ReportReaderTests
{
    private const long Now = 1_783_515_900; // 8 July 2026, 13:05 UTC

    private static readonly DateTimeOffset Received = DateTimeOffset.FromUnixTimeSeconds(Now);
    private static readonly StationContext Station = new("COP-1", Received.AddDays(-30), HasNoClock: false);

    [Fact]
    public void Read_strips_the_base_name_and_keeps_the_place_in_the_pack()
    {
        ReportReading.Report report = Read("""
            [{"bn":"COP-1/","bt":1783515600,"n":"tank/fill","u":"/","v":0.41},{"n":"tools/brush/uses","t":-300,"u":"count","v":1042}]
            """);

        report.SetAside.Should().BeEmpty();
        report.Measurements.Select(indexed => (indexed.Index, indexed.Measurement)).Should().Equal(
            (1, new Measurement("tools/brush/uses", At(1_783_515_300), 1042)),
            (0, new Measurement("tank/fill", At(1_783_515_600), 0.41)));
        report.Measurements[1].Raw.Should().Be("""{"n":"tank/fill","u":"/","t":1783515600,"v":0.41}""");
    }

    [Theory]
    [InlineData("""{"n":"tank/fill","u":"/","t":1783515600,"v":0.5}""")]
    [InlineData("""{"n":"COP-1/tank/fill","u":"/","t":1783515600,"v":0.5}""")]
    [InlineData("""{"bn":"COP-1/tank/","n":"fill","u":"/","t":1783515600,"v":0.5}""")]
    public void Read_takes_the_same_resolved_name_however_it_is_split(string record)
    {
        Read($"[{record}]").Measurements.Should().ContainSingle().Which.Measurement.Name.Should().Be("tank/fill");
    }

    [Theory]
    [InlineData("""[{"bn":"OTT-1/","n":"tank/fill","t":1783515600,"v":0.5}]""", "OTT-1/")]
    [InlineData("""[{"bn":"COP-1","n":"/tank/fill","t":1783515600,"v":0.5}]""", "COP-1")]
    [InlineData("""[{"bn":"COP-10/","n":"tank/fill","t":1783515600,"v":0.5}]""", "COP-10/")]
    [InlineData("""[{"bn":"COP-1/","n":"tank/fill","t":1783515600,"v":0.5},{"bn":"OTT-1/"}]""", "OTT-1/")]
    public void Read_refuses_a_base_name_of_another_station(string pack, string foreign)
    {
        ReportReader.Read(SenmlDecoderTests.Decode(pack), Station, Received)
            .Should().Be(new ReportReading.ForeignName(foreign));
    }

    [Theory]
    [InlineData(10, "tank/fill", "%", 0.57, 0.57)]
    [InlineData(10, "battery/charge", "%EL", 57, 0.57)]
    [InlineData(10, "air/temperature", "K", 273.15, 0)]
    [InlineData(26, "tank/fill", "/100", 57, 0.57)]
    [InlineData(26, "tank/level", "mm", 1234, 1.234)]
    [InlineData(26, "tank/distance", "cm", 57, 0.57)]
    [InlineData(26, "battery/voltage", "mV", 12_600, 12.6)]
    [InlineData(26, "battery/current", "mA", -250, -0.25)]
    [InlineData(26, "solar/power", "kW", 0.12, 120)]
    [InlineData(26, "controller/uptime", "h", 2, 7200)]
    [InlineData(26, "radio/signal", "dBm", 10, -20)]
    [InlineData(26, "tools/vacuum/on-time", "ms", 100, 0.1)]
    [Source("RFC 8798: 100 ms is 0.1 s and 10 dBm is -20 dBW; the other scales are those of its table of secondary units")]
    public void Read_converts_to_the_unit_of_the_table(int version, string name, string unit, double value, double expected)
    {
        ReportReading.Report report = Read(FormattableString.Invariant(
            $$"""[{"bver":{{version}},"n":"{{name}}","u":"{{unit}}","t":1783515600,"v":{{value}}}]"""));

        // One rounding of a double.
        report.Measurements.Should().ContainSingle().Which.Measurement.Value.Should().BeApproximately(expected, 1e-12);
    }

    [Theory]
    [InlineData("""{"n":"tank/fill","u":"m","v":0.5}""", "The unit 'm' does not fit tank/fill, which is measured in '/'.")]
    [InlineData("""{"n":"battery/voltage","u":"mV","v":12600}""", "version 26")]
    [InlineData("""{"n":"radio/signal","u":"dBm","v":-71}""", "version 26")]
    [InlineData("""{"n":"tools/brush/uses","u":"1","v":12}""", "does not fit")]
    [InlineData("""{"n":"tank/fill","u":"%","v":57}""", "share from 0 to 1")]
    [InlineData("""{"n":"tank/fill","u":"/","v":1.21}""", "from -0.05 to 1.2")]
    [InlineData("""{"n":"tank/fill","u":"/","v":-0.06}""", "from -0.05 to 1.2")]
    [InlineData("""{"n":"battery/charge","u":"%EL","v":101}""", "from 0 to 1")]
    [InlineData("""{"n":"tools/brush/uses","u":"count","v":-1}""", "at least 0")]
    [InlineData("""{"n":"controller/uptime","u":"s","v":-1}""", "at least 0")]
    [InlineData("""{"n":"lat","u":"lat","v":90.1}""", "from -90 to 90")]
    [InlineData("""{"n":"label","vs":"Dam Road"}""", "Only numbers")]
    [InlineData("""{"n":"label","vd":"aGkgCg"}""", "Only numbers")]
    [InlineData("""{"n":"tank/fill","s":4}""", "Sums")]
    public void Read_sets_aside_what_cannot_be_counted_and_keeps_the_rest(string record, string reason)
    {
        ReportReading.Report report = Read($$"""[{"bt":1783515600,"n":"air/temperature","u":"Cel","v":20},{{record}}]""");

        SetAsideRecord setAside = report.SetAside.Should().ContainSingle().Subject;
        setAside.Index.Should().Be(1);
        setAside.Reason.Should().Contain(reason);
        setAside.Raw.Should().Contain("\"n\":").And.Contain("1783515600");
        report.Measurements.Should().ContainSingle().Which.Measurement.Value.Should().Be(20);
    }

    [Theory]
    [InlineData("""{"n":"tank/fill","v":0.5}""", "tank/fill", 0.5)]
    [InlineData("""{"n":"wind/speed","u":"m/s","v":3}""", "wind/speed", 3)]
    [InlineData("""{"n":"wind/speed","u":"furlong","v":3}""", "wind/speed", 3)]
    [InlineData("""{"n":"tools/a/b/uses","u":"V","v":-3}""", "tools/a/b/uses", -3)]
    [InlineData("""{"n":"door","vb":true}""", "door", 1)]
    [InlineData("""{"n":"door","vb":false}""", "door", 0)]
    public void Read_keeps_values_without_a_unit_names_of_no_table_and_booleans(string record, string name, double value)
    {
        ReportReading.Report report = Read($$"""[{"bt":1783515600},{{record}}]""");

        report.Measurements.Should().ContainSingle().Which.Measurement.Should().Be(new Measurement(name, At(1_783_515_600), value));
    }

    [Theory]
    [InlineData(Now + 600, true)]
    [InlineData(Now + 601, false)]
    [InlineData(Now + 7 * 86_400, false)]
    [InlineData(1e300, false)]
    [InlineData(Now - 30 * 86_400, true)]
    [InlineData(Now - 30 * 86_400 - 1, false)]
    [InlineData(946_684_800, false)]
    public void Read_sets_aside_times_of_a_wrong_clock(double time, bool counts)
    {
        ReportReading.Report report = Read(FormattableString.Invariant($$"""[{"n":"tank/fill","t":{{time:R}},"v":0.5}]"""));

        report.Measurements.Should().HaveCount(counts ? 1 : 0);
        report.SetAside.Should().HaveCount(counts ? 0 : 1);
        report.SetAside.All(record => record.Kind == (time > Now ? SetAsideKind.FastClock : SetAsideKind.BeforeStation)).Should().BeTrue();
        (report.ClockOff > TimeSpan.FromMinutes(10)).Should().Be(!counts && time > Now, "a time before the station may come from a logger");
    }

    [Theory]
    [InlineData(0, SetAsideKind.RelativeTime)]
    [InlineData(-300, SetAsideKind.RelativeTime)]
    [InlineData(86_400, SetAsideKind.UnsetClock)]
    public void Read_sets_aside_relative_times_since_a_repeated_report_would_resolve_differently(double time, SetAsideKind kind)
    {
        SenmlResult.Pack pack = SenmlDecoderTests.Decode(FormattableString.Invariant($$"""[{"n":"tank/fill","t":{{time}},"v":0.5}]"""));

        var first = (ReportReading.Report)ReportReader.Read(pack, Station, Received);
        var second = (ReportReading.Report)ReportReader.Read(pack, Station, Received.AddMinutes(3));

        first.Measurements.Should().BeEmpty();
        first.SetAside.Should().Equal(second.SetAside, "the same record must not be kept twice");
        first.SetAside[0].Kind.Should().Be(kind);
    }

    [Theory]
    [InlineData("""{"n":"a","t":1783519200,"v":1},{"n":"b","t":1783522800,"v":1}""", 6900.0)]
    [InlineData("""{"n":"a","t":1783519200,"v":1},{"n":"b","t":1783515900,"v":1}""", 3300.0)]
    [InlineData("""{"n":"a","t":900,"v":1}""", 900.0 - Now)]
    [InlineData("""{"n":"a","t":900,"v":1},{"n":"b","t":1783515900,"v":1}""", null)]
    [InlineData("""{"n":"a","t":946684800,"v":1}""", null)]
    [InlineData("""{"n":"a","v":1}""", null)]
    public void Read_tells_how_far_the_clock_is_off_when_the_report_says_that_it_is_wrong(string records, double? seconds) =>
        (Read($"[{records}]").ClockOff?.TotalSeconds).Should().Be(seconds);

    [Theory]
    [Source("RFC 8428, section 4.3: an update time is how long until an updated reading")]
    [InlineData("""{"n":"a","v":1,"t":1783519200,"ut":3600},{"n":"b","v":1,"t":1783519200,"ut":900}""", 900.0)]
    [InlineData("""{"n":"a","v":1,"t":1783519200,"ut":86400},{"n":"b","v":1,"t":1783519200}""", 86400.0)]
    [InlineData("""{"n":"a","v":1,"t":1783519200,"ut":0},{"n":"b","v":1,"t":1783519200,"ut":-5},{"n":"c","v":1,"t":1783519200,"ut":1e300}""", null)]
    [InlineData("""{"n":"a","v":1,"t":1783519200}""", null)]
    public void Read_tells_within_what_time_the_station_promises_its_next_reading(string records, double? seconds) =>
        (Read($"[{records}]").UpdateWithin?.TotalSeconds).Should().Be(seconds);

    [Theory]
    [InlineData("""{"n":"tank/fill","u":"m","v":0.5}""")]
    [InlineData("""{"n":"-","vs":"x"}""")]
    [InlineData("""{"bver":26,"n":"radio/signal","u":"W","v":-70}""")]
    [InlineData("""{"v":1}""")]
    [InlineData("""{"n":"label","vs":"Dam \"Road\"}"}""")]
    [InlineData("""{"n":"a/b","s":3,"ut":60}""")]
    public void ReadAgain_reads_a_record_that_was_set_aside_as_it_was_read_at_first(string record)
    {
        SetAsideRecord first = Read($"[{record[..^1]},\"bn\":\"COP-1/\",\"t\":1783515600}}]").SetAside.Should().ContainSingle().Subject;

        ReportReading.Report again = ReportReader.ReadAgain(first.Raw, Station, Received)!;

        again.SetAside.Should().ContainSingle().Which.Should().Be(first with { Index = 0 });
        ReportReader.ReadAgain(first.Raw, Station with { Code = "COP-9" }, Received)!.SetAside.Should().Equal(again.SetAside, "a code may change");
    }

    [Fact]
    public void ReadAgain_counts_a_relative_time_from_the_moment_of_arrival()
    {
        string raw = Read("""[{"n":"tank/fill","t":-60,"v":0.5}]""").SetAside.Single().Raw;

        ReportReading.Report again = ReportReader.ReadAgain(raw, Station with { HasNoClock = true }, Received)!;

        again.Measurements.Single().Measurement.Should().Be(new Measurement("tank/fill", Received.AddSeconds(-60), 0.5));
    }

    [Theory]
    [InlineData("at,name,unit,value")]
    [InlineData("{\"n\":\"a\",\"vs\":\"cut sh… SHA-256 00")]
    [InlineData("")]
    public void ReadAgain_gives_nothing_for_a_text_that_was_cut_or_is_no_SenML(string raw) =>
        ReportReader.ReadAgain(raw, Station, Received).Should().BeNull();

    [Fact]
    public void Read_takes_relative_times_of_a_station_without_a_clock_at_the_time_of_arrival()
    {
        SenmlResult.Pack pack = SenmlDecoderTests.Decode("""[{"n":"tank/fill","v":0.5},{"n":"tank/fill","t":-300,"v":0.4}]""");

        var report = (ReportReading.Report)ReportReader.Read(pack, Station with { HasNoClock = true }, Received);

        report.Measurements.Select(indexed => indexed.Measurement).Should().Equal(
            new Measurement("tank/fill", At(Now - 300), 0.4), new Measurement("tank/fill", At(Now), 0.5));
    }

    [Fact]
    public void Read_cuts_times_to_milliseconds_and_gives_one_instant_however_it_is_split()
    {
        ReportReading.Report report = Read("""
            [{"n":"a","t":1783515600.0019,"v":1},
             {"n":"b","bt":1783515605.001,"t":-5,"v":1},
             {"n":"c","bt":1783515000,"t":600.001,"v":1},
             {"n":"d","bt":0,"t":1783515600.001,"v":1}]
            """);

        report.Measurements.Should().OnlyContain(indexed => indexed.Measurement.At == At(1_783_515_600).AddMilliseconds(1));
    }

    [Fact]
    public void Read_keeps_the_text_of_a_long_record_short_and_distinct()
    {
        string text = new('x', 100_000);
        ReportReading.Report report = Read($$"""[{"n":"a","vs":"{{text}}1"},{"n":"a","vs":"{{text}}2"}]""");

        report.SetAside.Select(record => record.Raw).Should().OnlyHaveUniqueItems().And.OnlyContain(raw => raw.Length < 2200);
    }

    [Fact]
    public void Read_sets_aside_a_record_that_names_nothing_and_one_that_says_too_much()
    {
        ReportReading.Report report = Read($$"""[{"bn":"COP-1/","bt":1783515600,"v":1},{"n":"{{new string('a', 121)}}","v":1}]""");

        report.SetAside.Should().HaveCount(2);
    }

    private static ReportReading.Report Read(string json) =>
        ReportReader.Read(SenmlDecoderTests.Decode(json), Station, Received).Should().BeOfType<ReportReading.Report>().Subject;

    private static DateTimeOffset At(long seconds) => DateTimeOffset.FromUnixTimeSeconds(seconds);
}
