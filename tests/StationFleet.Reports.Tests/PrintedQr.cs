using System.Diagnostics;
using System.Globalization;
using System.Text;
using ZXing;
using ZXing.Common;
using ZXing.Multi.QrCode;

namespace StationFleet.Reports.Tests;

/// <summary>Reads the QR code off a page as a phone does: poppler draws the page, ZXing.Net looks for the code, among whatever else looks like its corners.</summary>
internal static class PrintedQr
{
    /// <returns>The text; null when no code is found on the first page.</returns>
    public static string? Read(byte[] pdf)
    {
        (byte[] grey, int width, int height) = Drawn(pdf);
        BinaryBitmap picture = new(new HybridBinarizer(new PlanarYUVLuminanceSource(grey, width, height, 0, 0, width, height, false)));
        return new QRCodeMultiReader().decodeMultiple(picture, new Dictionary<DecodeHintType, object> { [DecodeHintType.TRY_HARDER] = true })
            ?.Select(found => found.Text).Single();
    }

    // A portable greymap of the first page at 203 dpi, a common label printer's resolution.
    private static (byte[] Grey, int Width, int Height) Drawn(byte[] pdf)
    {
        string folder = Directory.CreateTempSubdirectory("drawn-").FullName;
        try
        {
            string file = Path.Combine(folder, "page.pdf");
            File.WriteAllBytes(file, pdf);
            using Process draw = Process.Start("pdftoppm", ["-gray", "-r", "203", "-singlefile", file, Path.Combine(folder, "page")]);
            draw.WaitForExit();
            byte[] map = File.ReadAllBytes(Path.Combine(folder, "page.pgm"));
            string[] head = Encoding.ASCII.GetString(map, 0, 40).Split((char[])[' ', '\n'], 5);
            head[0].Should().Be("P5");
            (int width, int height) = (int.Parse(head[1], CultureInfo.InvariantCulture), int.Parse(head[2], CultureInfo.InvariantCulture));
            return (map[^(width * height)..], width, height);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
