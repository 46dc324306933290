using System.Diagnostics;
using StationFleet.Reports.Sampling;

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

        string? read = PrintedQr.Read(pdf);

        read.Should().Be(Address, "the code has to be found on the drawn label");
    }

    [Fact]
    public void A_person_reads_code_place_and_caution_off_the_label()
    {
        string text = Run("pdftotext", "-layout", SampleLabels.Write([Label, Label with { Code = "COP-1-260708-B", IsFlammable = false }], isInvented: true), "-");

        text.Should().Contain("COP-1-260708-A").And.Contain("COP-1-260708-B").And.Contain("Copperline Reservoir").And.Contain("64 µm")
            .And.Contain("Ethanol: flammable").And.Contain("Invented data");
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
