using System.Diagnostics;
using StationFleet.Reports.Sampling;
using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace StationFleet.Reports.Tests.Sampling;

public sealed class SampleLabelTests
{
    private const string Address = "https://fleet.juniper-basin.example/samples/COP-1-260708-A";

    private static readonly SampleLabel Label = new(
        "COP-1-260708-A", Address, ["Dam Road access, Copperline Reservoir", "Wed 8 Jul 2026, 06:45", "grab, 10 L, 64 µm", "field crew"], IsFlammable: true);

    [Fact]
    [Source("ISO/IEC 18004 as read by ZXing.Net, an independent library; the page drawn by poppler")]
    public void A_phone_reads_the_address_off_the_label()
    {
        byte[] pdf = SampleLabels.Write([Label], isInvented: false);

        (byte[] grey, int width, int height) = Drawn(pdf);
        BinaryBitmap picture = new(new HybridBinarizer(new PlanarYUVLuminanceSource(grey, width, height, 0, 0, width, height, false)));
        Result? read = new QRCodeReader().decode(picture, new Dictionary<DecodeHintType, object> { [DecodeHintType.TRY_HARDER] = true });

        read.Should().NotBeNull("the code has to be found on the drawn label");
        read!.Text.Should().Be(Address);
    }

    [Fact]
    public void A_person_reads_code_place_and_caution_off_the_label()
    {
        string text = Run("pdftotext", "-layout", SampleLabels.Write([Label, Label with { Code = "COP-1-260708-B", IsFlammable = false }], isInvented: true), "-");

        text.Should().Contain("COP-1-260708-A").And.Contain("COP-1-260708-B").And.Contain("Copperline Reservoir").And.Contain("64 µm")
            .And.Contain("Ethanol: flammable").And.Contain("Invented data");
    }

    // A portable greymap of the first page at 203 dpi, a common label printer's resolution.
    private static (byte[] Grey, int Width, int Height) Drawn(byte[] pdf)
    {
        string folder = Directory.CreateTempSubdirectory("label-").FullName;
        try
        {
            string file = Path.Combine(folder, "label.pdf");
            File.WriteAllBytes(file, pdf);
            using Process draw = Process.Start("pdftoppm", ["-gray", "-r", "203", "-singlefile", file, Path.Combine(folder, "label")]);
            draw.WaitForExit();
            byte[] map = File.ReadAllBytes(Path.Combine(folder, "label.pgm"));
            string[] head = System.Text.Encoding.ASCII.GetString(map, 0, 40).Split((char[])[' ', '\n'], 5);
            head[0].Should().Be("P5");
            (int width, int height) = (int.Parse(head[1], System.Globalization.CultureInfo.InvariantCulture), int.Parse(head[2], System.Globalization.CultureInfo.InvariantCulture));
            return (map[^(width * height)..], width, height);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Run(string program, string option, byte[] pdf, string target)
    {
        string file = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(file, pdf);
            using Process read = Process.Start(new ProcessStartInfo(program, [option, file, target]) { RedirectStandardOutput = true })!;
            string text = read.StandardOutput.ReadToEnd();
            read.WaitForExit();
            return text;
        }
        finally
        {
            File.Delete(file);
        }
    }
}
