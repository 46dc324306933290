using System.Text;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Telemetry;

/// <summary>Bodies that are no lawful pack: each is a fault with the place of the record, and none throws.</summary>
public sealed class SenmlDecoderRefusalTests
{
    private const int Mutations = 20_000;

    private static readonly string[] Seeds =
    [
        """[{"bn":"COP-1/","bt":1783515600,"n":"tank/fill","u":"/","v":0.41},{"n":"tools/brush/uses","u":"count","v":1042,"ut":900}]""",
        """[{"bver":26,"n":"radio/signal","u":"dBm","v":-71,"t":-5},{"n":"label","vs":"Dam \u00e9 \ud83d\ude00 Road"},{"n":"d","vd":"aGkgCg"}]""",
        """[{"bn":"x","bv":20,"bs":5},{"v":1.5e3},{"s":-2.25},{"vb":true,"foo":[{"a":null}]}]""",
    ];

    [Theory]
    [InlineData("""{"n":"a","v":1}""", null, "array")]
    [InlineData("""[]""", null, "no record")]
    [InlineData("""  [ ]  """, null, "no record")]
    [InlineData("""[{"n":"a","v":1,"vs":"1"}]""", 0, "not several")]
    [InlineData("""[{"n":"a","v":1},{"n":"a","v":"1"}]""", 1, "'v' must be a number")]
    [InlineData("""[{"n":"a","v":null}]""", 0, "'v' must be a number")]
    [InlineData("""[{"n":"a","v":1,"foo_":1}]""", 0, "foo_")]
    [InlineData("""[{"n":"a","v":1,"bfoo_":1}]""", 0, "bfoo_")]
    [InlineData("""[{"bver":11,"n":"a","v":1}]""", 0, "Version 11")]
    [InlineData("""[{"bver":42,"n":"a","v":1}]""", 0, "Version 42")]
    [InlineData("""[{"bver":16,"n":"a","v":1}]""", 0, "Version 16")]
    [InlineData("""[{"bver":9007199254740993,"n":"a","v":1}]""", 0, "whole number")]
    [InlineData("""[{"bver":0,"n":"a","v":1}]""", 0, "whole number")]
    [InlineData("""[{"bver":10.5,"n":"a","v":1}]""", 0, "whole number")]
    [InlineData("""[{"bver":10,"n":"a","v":1},{"bver":26,"n":"a","v":1}]""", 1, "one version")]
    [InlineData("""[{"n":"a","v":1},{"bver":26,"n":"a","v":1}]""", 1, "one version")]
    [InlineData("""[{"n":"_a","v":1}]""", 0, "starts with")]
    [InlineData("""[{"n":"a b","v":1}]""", 0, "characters")]
    [InlineData("""[{"n":"é","v":1}]""", 0, "starts with")]
    [InlineData("""[{"n":"","v":1}]""", 0, "no name")]
    [InlineData("""[{"v":1}]""", 0, "no name")]
    [InlineData("""[{"n":"a"}]""", 0, "no value")]
    [InlineData("""[{"bn":"a","bv":1},{"t":1}]""", 1, "no value")]
    [InlineData("""[{}]""", 0, "no value")]
    [InlineData("""[{"n":"a","n":"b","v":1}]""", 0, "twice")]
    [InlineData("""[{"n":"a","x":1,"x":1,"v":1}]""", 0, "twice")]
    [InlineData("""[{"n":"a","v":NaN}]""", 0, "malformed")]
    [InlineData("""[{"n":"a","v":1e400}]""", 0, "range")]
    [InlineData("""[{"n":"a","bv":1e308,"v":1e308}]""", 0, "base added")]
    [InlineData("""[{"n":"a","bt":1e308,"t":1e308,"v":1}]""", 0, "base added")]
    [InlineData("""[{"n":"a","vd":"aGkgCg=="}]""", 0, "base64url")]
    [InlineData("""[{"n":"a","vb":1}]""", 0, "true or false")]
    [InlineData("""[{"n":"a","u":7,"v":1}]""", 0, "'u' must be a string")]
    [InlineData("""[{"n":"a","v":1},7]""", 1, "JSON object")]
    [InlineData("""[{"n":"a","v":1},{"n":"b","v":""", 1, "cut short")]
    [InlineData("""[{"n":"a","v":1},]""", 0, "malformed")]
    [InlineData("""[{"n":"a","v":1}] x""", null, "malformed")]
    [InlineData("", null, "cut short")]
    [InlineData("""[{"n":"\ud800","v":1}]""", 0, "escape")]
    public void Decode_names_what_is_wrong_and_where(string json, int? record, string inDetail)
    {
        SenmlResult.Fault fault = SenmlDecoderTests.Fault(json);

        fault.Record.Should().Be(record);
        fault.Detail.Should().Contain(inDetail);
    }

    [Fact]
    public void Decode_refuses_bytes_that_are_no_text()
    {
        SenmlDecoder.Decode([.. "[{\"n\":\"a\",\"foo\":\""u8, 0xC3, 0x28, .. "\",\"v\":1}]"u8])
            .Should().BeOfType<SenmlResult.Fault>().Which.Detail.Should().Contain("UTF-8");
    }

    [Fact]
    public void Decode_refuses_nesting_without_end()
    {
        string nested = $$"""[{"n":"a","v":1,"foo":{{new string('[', 100_000)}}{{new string(']', 100_000)}}}]""";

        SenmlDecoderTests.Fault(nested).Detail.Should().Contain("nested");
    }

    [Fact]
    public void Decode_takes_a_hundred_thousand_records()
    {
        string pack = """[{"bn":"a","bt":1783515600,"v":0}""" + string.Concat(Enumerable.Repeat(",{\"v\":1}", 99_999)) + "]";

        SenmlDecoderTests.Decode(pack).Records.Should().HaveCount(100_000);
    }

    [Fact]
    public void Decode_answers_any_mutated_pack_without_throwing()
    {
        Random random = new(20261125);
        int packs = 0;
        for (int i = 0; i < Mutations; i++)
        {
            byte[] body = Mutate(Encoding.UTF8.GetBytes(Seeds[random.Next(Seeds.Length)]), random);

            switch (SenmlDecoder.Decode(body))
            {
                case SenmlResult.Pack pack:
                    packs++;
                    ShouldBeReadable(pack);
                    break;
                case SenmlResult.Fault fault:
                    fault.Detail.Should().NotBeEmpty();
                    break;
            }
        }

        packs.Should().BeInRange(Mutations / 20, Mutations * 19 / 20, "both outcomes must have been tried");
    }

    // What decodes must also survive what comes after: the reader, for a station with and without a clock, and the kept text.
    private static void ShouldBeReadable(SenmlResult.Pack pack)
    {
        DateTimeOffset received = DateTimeOffset.FromUnixTimeSeconds(1_783_516_000);
        foreach (bool hasNoClock in (bool[])[false, true])
        {
            StationContext station = new("COP-1", received.AddYears(-1), hasNoClock);
            if (ReportReader.Read(pack, station, received) is ReportReading.Report report)
            {
                (report.Measurements.Count + report.SetAside.Count).Should().Be(pack.Records.Count);
                report.Measurements.All(indexed => double.IsFinite(indexed.Measurement.Value)).Should().BeTrue();
            }
        }
    }

    private static byte[] Mutate(byte[] body, Random random)
    {
        List<byte> bytes = [.. body];
        for (int changes = random.Next(1, 4); changes > 0; changes--)
        {
            int at = random.Next(bytes.Count);
            switch (random.Next(6))
            {
                case 0: bytes[at] = (byte)random.Next(256); break;
                case 1: bytes[at] = (byte)"{}[]\":,0123456789eE+-.tfnbvsu_\\"[random.Next(31)]; break;
                case 2: bytes.RemoveAt(at); break;
                case 3: bytes.Insert(at, bytes[random.Next(bytes.Count)]); break;
                case 4: bytes.InsertRange(at, bytes.GetRange(at, random.Next(bytes.Count - at))); break;
                default: bytes.RemoveRange(at, random.Next(Math.Min(8, bytes.Count - at))); break;
            }
        }

        return [.. bytes];
    }
}
