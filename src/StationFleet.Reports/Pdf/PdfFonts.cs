using System.Collections.Concurrent;
using System.Reflection;
using PdfSharp.Fonts;

namespace StationFleet.Reports.Pdf;

/// <summary>The fonts of PDF files: they come with the program, so that a file looks the same wherever it was made.</summary>
internal sealed class PdfFonts : IFontResolver
{
    public const string Family = "DejaVu Sans";

    private static readonly Lock Gate = new();
    private readonly ConcurrentDictionary<string, byte[]> _faces = new();

    /// <summary>Must run before the first font is made.</summary>
    public static void Use()
    {
        lock (Gate)
        {
            GlobalFontSettings.FontResolver ??= new PdfFonts();
        }
    }

    public FontResolverInfo ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? "DejaVuSans-Bold" : "DejaVuSans");

    public byte[] GetFont(string faceName) => _faces.GetOrAdd(faceName, Read);

    private static byte[] Read(string face)
    {
        using Stream font = Assembly.GetExecutingAssembly().GetManifestResourceStream($"{face}.ttf")
            ?? throw new InvalidOperationException($"The font {face} did not come with the program.");
        using MemoryStream bytes = new();
        font.CopyTo(bytes);
        return bytes.ToArray();
    }
}
