using PdfSharp.Drawing;
using QRCoder;

namespace StationFleet.Reports.Pdf;

/// <summary>Draws a text as a QR code.</summary>
internal static class PdfQr
{
    /// <param name="paper">The page.</param>
    /// <param name="text">What a phone reads.</param>
    /// <param name="square">Where it stands, with the four quiet modules that the QR standard wants around it.</param>
    public static void Draw(XGraphics paper, string text, XRect square)
    {
        using QRCodeGenerator generator = new();
        using QRCodeData code = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        double module = square.Width / code.ModuleMatrix.Count;
        for (int row = 0; row < code.ModuleMatrix.Count; row++)
        {
            for (int column = 0; column < code.ModuleMatrix.Count; column++)
            {
                if (code.ModuleMatrix[row][column])
                {
                    // As black squares rather than a picture: sharp at every printer's resolution.
                    paper.DrawRectangle(XBrushes.Black, square.X + (column * module), square.Y + (row * module), module + 0.01, module + 0.01);
                }
            }
        }
    }
}
