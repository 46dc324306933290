using System.Text;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Telemetry;

/// <summary>The example packs of RFC 8428 §5.1, with the resolved records that its text and §5.1.4 give.</summary>
public sealed class SenmlDecoderTests
{
    [Fact]
    [Source("RFC 8428 §5.1.1")]
    public void Decode_takes_a_single_value_without_a_time_as_now()
    {
        SenmlResult.Pack pack = Decode("""[{"n":"urn:dev:ow:10e2073a01080063","u":"Cel","v":23.1}]""");

        SenmlRecord record = pack.Records.Should().ContainSingle().Subject;
        record.Should().Be(new SenmlRecord(0, "urn:dev:ow:10e2073a01080063", "Cel", 0, new SenmlValue.Number(23.1), null, null));
        record.IsRelative.Should().BeTrue();
        record.SecondsAt(1_800_000_000).Should().Be(1_800_000_000);
        pack.Version.Should().Be(10);
    }

    [Fact]
    [Source("RFC 8428 §5.1.2, second pack; its bver 5 left out, since RFC 9100 does not know that set of features")]
    public void Decode_applies_bases_to_their_own_record_and_sorts_by_time()
    {
        SenmlResult.Pack pack = Decode("""
            [
              {"bn":"urn:dev:ow:10e2073a0108006:","bt":1.276020076001e+09,"bu":"A","n":"voltage","u":"V","v":120.1},
              {"n":"current","t":-5,"v":1.2},
              {"n":"current","t":-4,"v":1.3},
              {"n":"current","t":-3,"v":1.4},
              {"n":"current","t":-2,"v":1.5},
              {"n":"current","t":-1,"v":1.6},
              {"n":"current","v":1.7}
            ]
            """);

        Lines(pack).Should().Equal(
            "1 current A 1276020071.001 1.2",
            "2 current A 1276020072.001 1.3",
            "3 current A 1276020073.001 1.4",
            "4 current A 1276020074.001 1.5",
            "5 current A 1276020075.001 1.6",
            "0 voltage V 1276020076.001 120.1",
            "6 current A 1276020076.001 1.7");
        pack.Records.Should().OnlyContain(record => record.Name.StartsWith("urn:dev:ow:10e2073a0108006:", StringComparison.Ordinal));
    }

    [Fact]
    [Source("RFC 8428 §5.1.2 as printed; refused by the rule of RFC 9100")]
    public void Decode_refuses_version_5()
    {
        Fault("""[{"bn":"urn:dev:ow:10e2073a0108006:","bver":5,"n":"voltage","u":"V","v":120.1}]""").Record.Should().Be(0);
    }

    [Fact]
    [Source("RFC 8428 §5.1.3, resolved in §5.1.4")]
    public void Decode_resolves_a_moving_sensor()
    {
        SenmlResult.Pack pack = Decode("""
            [
              {"bn":"urn:dev:ow:10e2073a01080063","bt":1.320067464e+09,"bu":"%RH","v":20},
              {"u":"lon","v":24.30621},
              {"u":"lat","v":60.07965},
              {"t":60,"v":20.3},
              {"u":"lon","t":60,"v":24.30622},
              {"u":"lat","t":60,"v":60.07965},
              {"t":120,"v":20.7},
              {"u":"lon","t":120,"v":24.30623},
              {"u":"lat","t":120,"v":60.07966},
              {"u":"%EL","t":150,"v":98},
              {"t":180,"v":21.2},
              {"u":"lon","t":180,"v":24.30628},
              {"u":"lat","t":180,"v":60.07967}
            ]
            """);

        pack.Records.Select(record => record.Time).Should().Equal(
            1320067464, 1320067464, 1320067464, 1320067524, 1320067524, 1320067524, 1320067584, 1320067584, 1320067584,
            1320067614, 1320067644, 1320067644, 1320067644);
        pack.Records.Select(record => record.Unit).Should().Equal(
            "%RH", "lon", "lat", "%RH", "lon", "lat", "%RH", "lon", "lat", "%EL", "%RH", "lon", "lat");
        pack.Records.Select(record => Number(record)).Should().Equal(
            20, 24.30621, 60.07965, 20.3, 24.30622, 60.07965, 20.7, 24.30623, 60.07966, 98, 21.2, 24.30628, 60.07967);
        pack.Records.Should().OnlyContain(record => record.Name == "urn:dev:ow:10e2073a01080063");
    }

    [Fact]
    [Source("RFC 8428 §5.1.5")]
    public void Decode_knows_numbers_texts_booleans_and_data()
    {
        SenmlResult.Pack pack = Decode("""
            [
              {"bn":"urn:dev:ow:10e2073a01080063:","n":"temp","u":"Cel","v":23.1},
              {"n":"label","vs":"Machine Room"},
              {"n":"open","vb":false},
              {"n":"nfv-reader","vd":"aGkgCg"}
            ]
            """);

        pack.Records.Select(record => record.Value).Should().Equal(
            new SenmlValue.Number(23.1), new SenmlValue.Text("Machine Room"), new SenmlValue.Flag(false), new SenmlValue.Data("aGkgCg"));
    }

    [Fact]
    [Source("RFC 8428 §5.1.6")]
    public void Decode_replaces_a_base_name_and_keeps_the_other_bases()
    {
        SenmlResult.Pack pack = Decode("""
            [
              {"bn":"2001:db8::2/","bt":1.320078429e+09,"n":"temperature","u":"Cel","v":25.2},
              {"n":"humidity","u":"%RH","v":30},
              {"bn":"2001:db8::1/","n":"temperature","u":"Cel","v":12.3},
              {"n":"humidity","u":"%RH","v":67}
            ]
            """);

        pack.Records[3].Should().Be(
            new SenmlRecord(3, "2001:db8::1/humidity", "%RH", 1320078429, new SenmlValue.Number(67), null, null));
        pack.BaseNames.Should().BeEquivalentTo("2001:db8::1/", "2001:db8::2/");
    }

    [Fact]
    [Source("RFC 8428 §5.1.7 opens with a record of base fields alone")]
    public void Decode_takes_a_record_of_base_fields_alone_as_a_carrier()
    {
        SenmlResult.Pack pack = Decode("""[{"bn":"urn:dev:ow:10e2073a01080063"},{"u":"Cel","v":1}]""");

        pack.Records.Should().ContainSingle().Which.Index.Should().Be(1);
        pack.Records[0].Name.Should().Be("urn:dev:ow:10e2073a01080063");
    }

    [Theory]
    [InlineData(268_435_455, true)]
    [InlineData(268_435_456, false)]
    [Source("RFC 8428 §4.5.3")]
    public void Decode_tells_relative_times_by_the_sum_of_base_time_and_time(double sum, bool isRelative)
    {
        SenmlResult.Pack pack = Decode(FormattableString.Invariant($$"""[{"n":"a","bt":{{sum - 100}},"t":100,"v":1}]"""));

        pack.Records[0].IsRelative.Should().Be(isRelative);
    }

    [Fact]
    [Source("RFC 8428 §4.5.4: base value and base sum are added")]
    public void Decode_adds_base_value_and_base_sum_and_leaves_other_kinds_alone()
    {
        SenmlResult.Pack pack = Decode("""
            [{"bn":"x","bv":20,"bs":5,"bt":1320067464,"v":1.5},{"s":2},{"vb":true},{"v":-20}]
            """);

        pack.Records.Select(record => record.Value).Should().Equal(
            new SenmlValue.Number(21.5), null, new SenmlValue.Flag(true), new SenmlValue.Number(0));
        pack.Records.Select(record => record.Sum).Should().Equal(5, 7, 5, 5);
    }

    [Fact]
    [Source("RFC 9100: feature 4, secondary units, makes version 26")]
    public void Decode_knows_version_26()
    {
        Decode("""[{"bver":26,"n":"a","u":"mV","v":1},{"bver":26.0,"n":"b","v":2}]""").AllowsSecondaryUnits.Should().BeTrue();
        Decode("""[{"bver":10,"n":"a","v":1}]""").AllowsSecondaryUnits.Should().BeFalse();
    }

    [Fact]
    [Source("RFC 8428 §4.4: unknown fields are ignored")]
    public void Decode_ignores_unknown_fields_however_they_are_made()
    {
        Decode("""[{"n":"a","foo":{"v":[1,{"n":null}]},"bfoo":"x","v":1}]""").Records.Should().ContainSingle();
    }

    [Fact]
    public void Decode_skips_a_byte_order_mark()
    {
        SenmlDecoder.Decode([0xEF, 0xBB, 0xBF, .. """[{"n":"a","v":1}]"""u8]).Should().BeOfType<SenmlResult.Pack>();
    }

    [Fact]
    public void ToJson_writes_what_Decode_reads_back_as_the_same_record()
    {
        SenmlRecord record = Decode("""[{"bver":26,"n":"a","u":"mV","t":1320067464.25,"v":-1.5e-7,"s":3,"ut":60}]""").Records[0];

        string text = record.ToJson(26);

        text.Should().Be("""{"bver":26,"n":"a","u":"mV","t":1320067464.25,"v":-1.5E-07,"s":3,"ut":60}""");
        Decode($"[{text}]").Records[0].Should().Be(record);
    }

    internal static SenmlResult.Pack Decode(string json) =>
        SenmlDecoder.Decode(Encoding.UTF8.GetBytes(json)).Should().BeOfType<SenmlResult.Pack>().Subject;

    internal static SenmlResult.Fault Fault(string json) =>
        SenmlDecoder.Decode(Encoding.UTF8.GetBytes(json)).Should().BeOfType<SenmlResult.Fault>().Subject;

    private static double Number(SenmlRecord record) => ((SenmlValue.Number)record.Value!).Value;

    private static IEnumerable<string> Lines(SenmlResult.Pack pack) => pack.Records.Select(record => FormattableString.Invariant(
        $"{record.Index} {record.Name[(record.Name.LastIndexOf(':') + 1)..]} {record.Unit} {record.Time:0.000} {Number(record)}"));
}
