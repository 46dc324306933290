using System.Globalization;
using PdfSharp.Drawing;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Time;
using StationFleet.Reports.Pdf;

namespace StationFleet.Reports.Seasons;

/// <summary>A season's charts, drawn with the words, rules and colours of the page.</summary>
internal static class SeasonPictures
{
    private const double AxisWidth = 40;
    private const double AxisHeight = 16;
    private const double LegendHeight = 16;

    private static readonly (ToolKind Kind, XColor Colour)[] Kinds =
    [
        (ToolKind.Vacuum, PdfPalette.Lake), (ToolKind.Grabber, PdfPalette.Silent), (ToolKind.Wrench, PdfPalette.Watch),
        (ToolKind.Brush, PdfPalette.Working), (ToolKind.Blower, PdfPalette.Closed), (ToolKind.Other, PdfPalette.Ink2),
    ];

    private static XFont Small => PdfFlow.Font(7);

    /// <summary>A bar for each week, of a part for each kind of tool.</summary>
    public static void UsesByWeek(XGraphics page, XRect place, IReadOnlyList<WeekUses> weeks)
    {
        ToolKind[] shown = [.. Kinds.Select(kind => kind.Kind).Where(kind => weeks.Any(week => week.ByKind.ContainsKey(kind)))];
        Legend(page, place, [.. shown.Select(kind => (SeasonTables.Spoken(kind), ColourOf(kind)))]);
        XRect plot = Plot(place);
        double most = Axis(page, plot, weeks.Max(week => week.Uses ?? 0));
        double step = plot.Width / weeks.Count;
        foreach ((int number, WeekUses week) in weeks.Index())
        {
            double y = plot.Bottom;
            foreach (ToolKind kind in shown)
            {
                double height = week.ByKind.GetValueOrDefault(kind) / most * plot.Height;
                page.DrawRectangle(new XSolidBrush(ColourOf(kind)), plot.Left + (number * step) + (step * 0.15), y - height, step * 0.7, height);
                y -= height;
            }

            if (weeks.Count <= 14 || number % 4 == 0)
            {
                Below(page, plot, plot.Left + ((number + 0.5) * step), week.Monday.ToString("d MMM", CultureInfo.InvariantCulture));
            }
        }
    }

    /// <summary>What one station's tank held, and a mark at each pump-out.</summary>
    public static void Tank(XGraphics page, XRect place, StationSeason station, UtcInterval span, UnitSystem units)
    {
        Legend(page, place, [($"{station.Code}, {Units.VolumeUnit(units)} in the tank", PdfPalette.Lake), ("pump-out", PdfPalette.Visit)]);
        XRect plot = Plot(place);
        double most = Axis(page, plot, Units.VolumeFor(station.Tank.Select(volume => volume.Litres).DefaultIfEmpty(0).Max(), units));
        XPoint? before = null;
        TankVolume? last = null;
        XPen line = new(PdfPalette.Lake, 1.1);
        foreach (TankVolume volume in station.Tank)
        {
            XPoint here = new(X(plot, span, volume.At), plot.Bottom - (Units.VolumeFor(volume.Litres, units) / most * plot.Height));
            if (before is { } from && volume.At - last!.At < TimeSpan.FromDays(3))
            {
                page.DrawLine(line, from, here);
            }

            (before, last) = (here, volume);
        }

        foreach (CountedPumpOut pumpOut in station.PumpOuts)
        {
            double x = X(plot, span, pumpOut.At);
            page.DrawLine(new XPen(PdfPalette.Visit, 0.8) { DashStyle = XDashStyle.Dash }, x, plot.Top, x, plot.Bottom);
            page.DrawPolygon(new XSolidBrush(PdfPalette.Visit), [new XPoint(x - 3, plot.Top - 4), new XPoint(x + 3, plot.Top - 4), new XPoint(x, plot.Top + 1)], XFillMode.Winding);
        }

        Months(page, plot, span, station.Zone);
    }

    /// <summary>A strip for each station: when it was up, down, or not required.</summary>
    public static void Availability(XGraphics page, XRect place, IReadOnlyList<StationSeason> stations, UtcInterval span)
    {
        Legend(page, place, [("in service", PdfPalette.Working), ("down", PdfPalette.Visit), ("not required", PdfPalette.Sand)]);
        XRect plot = Plot(place);
        double step = plot.Height / stations.Count;
        foreach ((int number, StationSeason station) in stations.Index())
        {
            double y = plot.Top + (number * step) + (step * 0.15);
            page.DrawString(station.Code, Small, new XSolidBrush(PdfPalette.Ink), new XRect(place.Left, y, AxisWidth - 6, step * 0.7), XStringFormats.CenterRight);
            foreach (ServiceStretch stretch in station.Service)
            {
                double from = X(plot, span, stretch.Span.Start);
                page.DrawRectangle(
                    new XSolidBrush(stretch.State switch
                    {
                        ServiceState.Up => PdfPalette.Working,
                        ServiceState.Down => PdfPalette.Visit,
                        _ => PdfPalette.Sand,
                    }),
                    from, y, Math.Max(0.4, X(plot, span, stretch.Span.End) - from), step * 0.7);
            }
        }

        Months(page, plot, span, stations[0].Zone);
    }

    /// <summary>Organisms in a litre by month: a point on a bar from the lower to the upper limit; a month without a sample says so.</summary>
    public static void Concentration(XGraphics page, XRect place, MonthRanking ranking)
    {
        Legend(page, place, [("estimate, in a litre", PdfPalette.Lake), ("95 % interval", PdfPalette.PineWash)]);
        XRect plot = Plot(place);
        double most = Axis(page, plot, ranking.Months.Select(month => month.Value).OfType<Bounded>().Select(value => double.IsFinite(value.High) ? value.High : value.Value).DefaultIfEmpty(0).Max());
        double step = plot.Width / ranking.Months.Count;
        foreach ((int number, MonthResult month) in ranking.Months.Index())
        {
            double x = plot.Left + ((number + 0.5) * step);
            Below(page, plot, x, new DateOnly(2000, month.Month, 1).ToString("MMM", CultureInfo.InvariantCulture));
            if (month.Value is not { } value)
            {
                page.DrawString("no sample", Small, new XSolidBrush(PdfPalette.Ink2), new XRect(x - 30, plot.Bottom - 14, 60, 10), XStringFormats.TopCenter);
                continue;
            }

            double top = Y(double.IsFinite(value.High) ? value.High : value.Value);
            page.DrawRectangle(new XPen(PdfPalette.Pine, 0.6), new XSolidBrush(PdfPalette.PineWash), x - 7, top, 14, Math.Max(0.5, Y(value.Low) - top));
            page.DrawEllipse(new XSolidBrush(PdfPalette.Lake), x - 3, Y(value.Value) - 3, 6, 6);
        }

        double Y(double value) => plot.Bottom - (value / most * plot.Height);
    }

    private static XColor ColourOf(ToolKind kind) => Kinds.First(each => each.Kind == kind).Colour;

    private static XRect Plot(XRect place) =>
        new(place.Left + AxisWidth, place.Top + LegendHeight + 6, place.Width - AxisWidth, place.Height - LegendHeight - AxisHeight - 6);

    private static double X(XRect plot, UtcInterval span, DateTimeOffset at) =>
        plot.Left + (Math.Clamp((at - span.Start) / (span.End - span.Start), 0, 1) * plot.Width);

    private static void Legend(XGraphics page, XRect place, IReadOnlyList<(string Words, XColor Colour)> entries)
    {
        double x = place.Left + AxisWidth;
        foreach ((string words, XColor colour) in entries)
        {
            page.DrawRectangle(new XPen(PdfPalette.Rule, 0.4), new XSolidBrush(colour), x, place.Top + 2, 8, 8);
            page.DrawString(words, Small, new XSolidBrush(PdfPalette.Ink), new XPoint(x + 12, place.Top + 9));
            x += 26 + page.MeasureString(words, Small).Width;
        }
    }

    // Lines at round numbers; gives the number at the top of the picture.
    private static double Axis(XGraphics page, XRect plot, double most)
    {
        most = most > 0 ? most : 1;
        double rough = most / 4;
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double step = power * (rough / power) switch { <= 1 => 1, <= 2 => 2, <= 5 => 5, _ => 10 };
        double top = Math.Ceiling(most / step) * step;
        for (double value = 0; value <= top + (step / 2); value += step)
        {
            double y = plot.Bottom - (value / top * plot.Height);
            page.DrawLine(new XPen(value == 0 ? PdfPalette.Ink2 : PdfPalette.Sand, 0.6), plot.Left, y, plot.Right, y);
            page.DrawString(
                value.ToString("#,##0.##", CultureInfo.InvariantCulture), Small, new XSolidBrush(PdfPalette.Ink2),
                new XRect(plot.Left - AxisWidth, y - 5, AxisWidth - 5, 10), XStringFormats.CenterRight);
        }

        return top;
    }

    private static void Months(XGraphics page, XRect plot, UtcInterval span, TimeZoneInfo zone)
    {
        // Over years, every third month is named, with the year in January.
        int step = span.End - span.Start > TimeSpan.FromDays(400) ? 3 : 1;
        DateOnly first = LocalCalendar.DateOf(span.Start, zone);
        for (DateOnly month = new(first.Year, first.Month, 1); LocalCalendar.StartOf(month, zone) < span.End; month = month.AddMonths(1))
        {
            DateTimeOffset at = LocalCalendar.StartOf(month, zone);
            if (at >= span.Start && (month.Month - 1) % step == 0)
            {
                double x = X(plot, span, at);
                page.DrawLine(new XPen(PdfPalette.Ink2, 0.6), x, plot.Bottom, x, plot.Bottom + 3);
                Below(page, plot, x, month.ToString(step > 1 && month.Month == 1 ? "yyyy" : "MMM", CultureInfo.InvariantCulture));
            }
        }
    }

    private static void Below(XGraphics page, XRect plot, double x, string words) =>
        page.DrawString(words, Small, new XSolidBrush(PdfPalette.Ink2), new XRect(x - 30, plot.Bottom + 3, 60, 10), XStringFormats.TopCenter);
}
