using System.Globalization;
using System.IO.Compression;
using System.Text;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>Makes broken, hostile and merely odd bodies out of lawful packs; the same number makes the same body.</summary>
internal static class PackMutator
{
    private static readonly string[] Lawful =
    [
        """[{"bn":"CODE/","bt":1783509000,"n":"tank/fill","u":"/","v":0.25},{"n":"tools/brush/uses","u":"count","v":100},{"n":"tank/fill","t":300,"v":0.26}]""",
        """[{"bn":"CODE/","bt":1783509000,"bu":"V","bver":26,"bv":12,"n":"battery/voltage","v":0.5},{"n":"battery/charge","u":"%EL","v":88},{"n":"radio/signal","u":"dBm","v":-70}]""",
        """[{"n":"door","t":1783509000,"vb":true},{"n":"note","t":1783509001,"vs":"café ☕ 水"},{"n":"blob","t":1783509002,"vd":"aGVsbG8"},{"n":"energy","t":1783509003,"s":1.5,"ut":60}]""",
        """[{"bn":"CODE/","bt":1783509000},{"n":"controller/uptime","u":"s","v":86400},{"n":"lat","u":"lat","v":44.4},{"n":"lon","u":"lon","v":-115.2},{"n":"extra","v":1e-7}]""",
    ];

    private static readonly string[] OddNumbers =
    [
        "1e999", "-1e308", "1.7976931348623157e308", "5e-324", "1e-400", "-0", "00", "1_000", "0x10", "NaN", "Infinity", "1.", ".5", "+1",
        "123456789012345678901234567890", "9007199254740993", "-9223372036854775809", "2e9", "268435455", "1e15", "null", "\"1\"",
    ];

    private static readonly string[] OddTexts =
    [
        "\\ud800", "\\udc00x", "\\u0000", "\\u202e", "\\ud83d\\ude00", "é́", "ﷺ", "\u0000", "\u2028", "'; --", "{{7*7}}", "../../x", "CODE/", "OTHER/", "", " ",
        "%00", "a/b/c/d/e/f/g/h", "tools//uses", "tools/x/y/uses", "-", "_", "\\", "\\\"", "\\x41",
    ];

    /// <summary>A body, and whether it says that it is gzip.</summary>
    public static (byte[] Body, bool IsGzip) Make(int number, string code)
    {
        Random dice = new(number);
        string text = Lawful[dice.Next(Lawful.Length)];
        int changes = dice.Next(0, 3);
        for (int i = 0; i < changes; i++)
        {
            text = ChangeText(text, dice);
        }

        byte[] body = Encoding.UTF8.GetBytes(text.Replace("CODE", code, StringComparison.Ordinal));
        body = dice.Next(6) == 0 ? ChangeBytes(body, dice) : body;
        if (dice.Next(4) != 0)
        {
            return (body, IsGzip: dice.Next(50) == 0);
        }

        byte[] packed = Gzip(body);
        return (dice.Next(3) == 0 ? ChangeBytes(packed, dice) : packed, true);
    }

    private static string ChangeText(string text, Random dice) => dice.Next(12) switch
    {
        0 => Replace(text, "1783509000", OddNumbers[dice.Next(OddNumbers.Length)], dice),
        1 => Replace(text, "\"v\":", "\"v\":" + OddNumbers[dice.Next(OddNumbers.Length)] + ",\"x\":", dice),
        2 => Replace(text, "\"n\":\"", "\"n\":\"" + OddTexts[dice.Next(OddTexts.Length)], dice),
        3 => Replace(text, "\"n\":", "\"n\":\"twice\",\"n\":", dice),
        4 => Replace(text, "\"v\":", $"\"{OddTexts[dice.Next(OddTexts.Length)]}\":", dice),
        5 => Replace(text, "\"v\":", "\"deep\":" + Deep(dice.Next(1, 300), dice) + ",\"v\":", dice),
        6 => Replace(text, "{", "{\"must_\":1,", dice),
        7 => Replace(text, "\"bver\":26", "\"bver\":" + dice.Next(-2, 100).ToString(CultureInfo.InvariantCulture), dice),
        8 => Replace(text, "},", "},{\"n\":\"" + new string('n', dice.Next(1, 400)) + "\",\"v\":1},", dice),
        9 => text + (dice.Next(2) == 0 ? text : OddTexts[dice.Next(OddTexts.Length)]),
        10 => Move(text, dice),
        _ => Replace(text, ",", new string(' ', dice.Next(1, 200)) + ",", dice),
    };

    private static string Deep(int levels, Random dice) => dice.Next(2) == 0
        ? new string('[', levels) + new string(']', dice.Next(5) == 0 ? levels - 1 : levels)
        : string.Concat(Enumerable.Repeat("{\"a\":", levels)) + "1" + new string('}', levels);

    // Replaces one of the places where it stands.
    private static string Replace(string text, string what, string by, Random dice)
    {
        int from = text.IndexOf(what, dice.Next(text.Length), StringComparison.Ordinal);
        from = from < 0 ? text.IndexOf(what, StringComparison.Ordinal) : from;
        return from < 0 ? text : text[..from] + by + text[(from + what.Length)..];
    }

    private static string Move(string text, Random dice)
    {
        (int from, int to) = (dice.Next(text.Length), dice.Next(text.Length));
        string piece = text.Substring(from, Math.Min(dice.Next(1, 60), text.Length - from));
        return dice.Next(2) == 0 ? text.Insert(to, piece) : text.Remove(from, piece.Length);
    }

    private static byte[] ChangeBytes(byte[] body, Random dice)
    {
        List<byte> bytes = [.. body];
        for (int i = dice.Next(1, 9); i > 0 && bytes.Count > 0; i--)
        {
            int at = dice.Next(bytes.Count);
            switch (dice.Next(5))
            {
                case 0: bytes[at] ^= (byte)(1 << dice.Next(8)); break;
                case 1: bytes[at] = (byte)dice.Next(256); break;
                case 2: bytes.Insert(at, (byte)dice.Next(256)); break;
                case 3: bytes.RemoveAt(at); break;
                default: bytes.RemoveRange(at, dice.Next(bytes.Count - at)); break;
            }
        }

        return [.. bytes];
    }

    private static byte[] Gzip(byte[] body)
    {
        using MemoryStream packed = new();
        using (GZipStream gzip = new(packed, CompressionLevel.Fastest))
        {
            gzip.Write(body);
        }

        return packed.ToArray();
    }
}
