using System.Globalization;
using PdfSharp.Drawing;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Fleet;
using StationFleet.Reports.Pdf;

namespace StationFleet.Reports.Boaters;

/// <summary>The drawings of the public page, in print.</summary>
internal static class PdfToolDrawing
{
    public static void Draw(XGraphics paper, ToolKind kind, XRect place)
    {
        double scale = Math.Min(place.Width / ToolDrawing.Width, place.Height / ToolDrawing.Height);
        foreach (DrawnLine line in ToolDrawing.Of(kind))
        {
            (XColor colour, double width) = line.As switch
            {
                DrawnAs.Tool => (PdfPalette.Pine, 4d),
                DrawnAs.Matter => (PdfPalette.Lake, 3d),
                _ => (PdfPalette.Ink2, 3d),
            };
            XPen pen = new(colour, width * scale) { LineCap = XLineCap.Round, LineJoin = XLineJoin.Round };
            foreach (XGraphicsPath figure in Figures(line.Path, place.TopLeft, scale))
            {
                paper.DrawPath(pen, figure);
            }
        }
    }

    // A figure each time the pen is lifted.
    private static List<XGraphicsPath> Figures(string path, XPoint origin, double scale)
    {
        List<XGraphicsPath> figures = [];
        Queue<string> parts = new(path.Split(' '));
        XPoint at = origin;
        while (parts.TryDequeue(out string? command))
        {
            switch (command)
            {
                case "M":
                    figures.Add(new XGraphicsPath());
                    at = Next();
                    break;
                case "L":
                    XPoint end = Next();
                    figures[^1].AddLine(at, end);
                    at = end;
                    break;
                case "C":
                    (XPoint first, XPoint second, XPoint last) = (Next(), Next(), Next());
                    figures[^1].AddBezier(at, first, second, last);
                    at = last;
                    break;
                case "Z":
                    figures[^1].CloseFigure();
                    break;
                default:
                    throw new FormatException($"A drawing holds M, L, C and Z, not {command}.");
            }
        }

        return figures;

        XPoint Next() => new(origin.X + (scale * Number()), origin.Y + (scale * Number()));

        double Number() => double.Parse(parts.Dequeue(), CultureInfo.InvariantCulture);
    }
}
