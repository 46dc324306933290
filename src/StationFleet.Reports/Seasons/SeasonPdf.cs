using System.Globalization;
using PdfSharp;
using PdfSharp.Drawing;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Reports.Pdf;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Seasons;

/// <summary>A season as a PDF to print: cover, figures, charts, how each figure is made, and what to keep in mind.</summary>
public static class SeasonPdf
{
    public const string ContentType = "application/pdf";

    private const int StationsAcross = 6;

    /// <param name="report">The season.</param>
    /// <param name="units">The readers' units.</param>
    /// <param name="frame">Whose it is.</param>
    /// <param name="progress">Gets the share that is done, 0 to 1; null when nobody looks.</param>
    public static byte[] Write(SeasonReport report, UnitSystem units, ReportFrame frame, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(frame);
        SeasonSummary summary = report.Summary;
        string note = frame.IsInvented ? $" · {ReportFrame.InventedNote}" : "";
        using PdfFlow flow = new(
            units == UnitSystem.UsCustomary ? PageSize.Letter : PageSize.A4, frame.Title, frame.Agency, summary.AsOf, $"{frame.Agency} · {frame.Title}{note}");
        Cover(flow, report, units, frame);
        progress?.Invoke(0.1);
        Figures(flow, summary, units);
        YearBefore(flow, report, units);
        progress?.Invoke(0.4);
        Pictures(flow, summary, units);
        SeasonSamplesPdf.Write(flow, report, units);
        Data(flow, report);
        Cautions(flow);
        progress?.Invoke(0.8);
        Notes(flow);
        byte[] file = flow.Finish();
        progress?.Invoke(1);
        return file;
    }

    private static void Cover(PdfFlow flow, SeasonReport report, UnitSystem units, ReportFrame frame)
    {
        SeasonSummary summary = report.Summary;
        flow.Page.DrawRectangle(new XSolidBrush(PdfPalette.Pine), 0, 0, flow.Page.PageSize.Width, 190);
        flow.Page.DrawString(frame.Agency, PdfFlow.Font(12), XBrushes.White, new XPoint(54, 92));
        flow.Page.DrawString("Season summary", PdfFlow.Font(30, isBold: true), XBrushes.White, new XPoint(54, 130));
        flow.Page.DrawString(frame.Title, PdfFlow.Font(13), XBrushes.White, new XPoint(54, 156));
        flow.Space(170);
        if (frame.IsInvented)
        {
            flow.Paragraph($"{ReportFrame.InventedNote}: no such agency, water or station exists.", 11, PdfPalette.Visit, isBold: true);
            flow.Space(8);
        }

        string[] lead = [.. frame.Lead, .. report.Shared.Length > 0 && !frame.Lead.Contains(report.Shared) ? [report.Shared] : Array.Empty<string>()];
        foreach (string sentence in lead)
        {
            flow.Paragraph(sentence, 14);
            flow.Space(8);
        }

        flow.Space(10);
        FigureDefinition[] main =
        [
            SeasonDefinitions.DaysInService, SeasonDefinitions.AvailabilityShare, SeasonDefinitions.ReportingCoverage, SeasonDefinitions.Uses,
            SeasonDefinitions.PumpOuts, SeasonDefinitions.PumpedOut,
        ];
        Dictionary<string, FigureValue> figures = summary.Fleet.Listed.ToDictionary(figure => figure.Definition.Key);
        flow.Table(
            [new PdfColumn("All stations together", 3), new PdfColumn("", 1, IsNumber: true)],
            main.Select(figure => (IReadOnlyList<string>)[Named(figure, units), SeasonWords.Value(figures[figure.Key], units)]), 11);
        flow.Space(14);
        flow.Paragraph(
            string.Create(CultureInfo.InvariantCulture, $"Counted up to {summary.AsOf.UtcDateTime:d MMMM yyyy, HH:mm} UTC. ")
            + "Each figure is defined at the end; what is an estimate says how uncertain it is.", 9, PdfPalette.Ink2);
    }

    private static void Figures(PdfFlow flow, SeasonSummary summary, UnitSystem units)
    {
        flow.NewPage();
        flow.Heading("Figures");
        Dictionary<string, FigureValue> all = summary.Fleet.Listed.ToDictionary(figure => figure.Definition.Key);
        StationSeason[][] groups = [.. summary.Stations.Chunk(StationsAcross)];
        foreach (StationSeason[] group in groups)
        {
            Dictionary<string, FigureValue>[] each = [.. group.Select(station => station.Figures.Listed.ToDictionary(figure => figure.Definition.Key))];
            flow.Table(
                [
                    new PdfColumn("Figure", 3.2), .. group.Select(station => new PdfColumn(station.Code, 1, IsNumber: true)),
                    .. summary.Stations.Count > 1 ? [new PdfColumn("All", 1.05, IsNumber: true)] : Array.Empty<PdfColumn>(),
                ],
                SeasonDefinitions.All.Select(figure => (IReadOnlyList<string>)
                [
                    Named(figure, units), .. each.Select(figures => SeasonWords.Value(figures[figure.Key], units)),
                    .. summary.Stations.Count > 1 ? [SeasonWords.Value(all[figure.Key], units)] : Array.Empty<string>(),
                ]));
            flow.Space(10);
        }

        flow.Need(Math.Min(12, summary.Stations.Count + 2) * 20);
        flow.Table(
            [new PdfColumn("Station", 1), new PdfColumn("Where it stands, or stood last", 4)],
            summary.Stations.Select(station => (IReadOnlyList<string>)[station.Code, station.Place]));
    }

    private static void YearBefore(PdfFlow flow, SeasonReport report, UnitSystem units)
    {
        if (report.Before is not { } before)
        {
            return;
        }

        flow.Heading("Beside the year before");
        flow.Paragraph(SeasonComparison.Note, 9);
        flow.Space(4);
        flow.Table(
            [
                new PdfColumn("All stations together", 3.4), new PdfColumn(SeasonWords.Named(report.Summary), 1.2, IsNumber: true),
                new PdfColumn(SeasonWords.NamedBefore(before), 1.2, IsNumber: true), new PdfColumn("Change", 0.9, IsNumber: true), new PdfColumn("", 1.5),
            ],
            report.Changes.Where(change => change.About.Length > 0 ? change.Value > 0 || change.Before > 0 : change.Value is not null || change.Before is not null).Select(change => (IReadOnlyList<string>)
            [
                change.About.Length > 0 ? change.Name : Named(change.Definition, units),
                SeasonWords.Value(new FigureValue(change.Definition, change.Value), units), SeasonWords.Value(new FigureValue(change.Definition, change.Before), units),
                SeasonWords.Change(change.Share), SeasonComparison.Say(change.Verdict),
            ]));
    }

    private static void Data(PdfFlow flow, SeasonReport report)
    {
        flow.Heading("The data behind it");
        if (report.Quality.Count == 0)
        {
            flow.Paragraph("No gap, no record set aside, no uncertain value.");
            return;
        }

        flow.Table(
            [new PdfColumn("Station", 1), new PdfColumn("What to know of its data", 7)],
            report.Quality.Select(notes => (IReadOnlyList<string>)[notes.Station, string.Join(' ', notes.Sentences)]));
    }

    private static void Pictures(PdfFlow flow, SeasonSummary summary, UnitSystem units)
    {
        UtcInterval[] spans = [.. summary.Stations.Where(station => station.Service.Count > 0).Select(station => new UtcInterval(station.Service[0].Span.Start, station.Service[^1].Span.End))];
        if (spans.Length == 0)
        {
            return;
        }

        UtcInterval span = new(spans.Min(each => each.Start), spans.Max(each => each.End));
        flow.NewPage();
        flow.Heading("Use by week and tool");
        if (summary.Weeks.Count > 0)
        {
            flow.Picture(170, (page, place) => SeasonPictures.UsesByWeek(page, place, summary.Weeks));
            flow.Paragraph("Uses of all stations in weeks from Monday to Sunday. A week without a bar has no data.", 8, PdfPalette.Ink2);
        }
        else
        {
            flow.Paragraph("No uses were counted.");
        }

        foreach ((int number, StationSeason[] group) in summary.Stations.Where(station => station.Service.Count > 0).Chunk(24).Index())
        {
            // A heading stays with its picture.
            flow.Need(100 + (14 * group.Length));
            flow.Heading(number == 0 ? "When the stations were in service" : "When the stations were in service, continued");
            flow.Picture(40 + (14 * group.Length), (page, place) => SeasonPictures.Availability(page, place, group, span));
        }

        foreach ((int number, StationSeason station) in summary.Stations.Where(station => station.Tank.Count > 0).Index())
        {
            if (number == 0)
            {
                flow.Need(180);
                flow.Heading("Tanks and pump-outs");
            }

            flow.Picture(118, (page, place) => SeasonPictures.Tank(page, place, station, span, units));
        }
    }

    private static void Notes(PdfFlow flow)
    {
        flow.NewPage();
        flow.Heading("How the figures are made");
        foreach (FigureDefinition figure in SeasonDefinitions.All.Concat(SeasonDefinitions.OfSamples))
        {
            flow.Entry(figure.Name, figure.Definition, $"Source: {figure.Source}.");
        }
    }

    private static void Cautions(PdfFlow flow)
    {
        flow.Need(150);
        flow.Heading("What to keep in mind");
        foreach (string caution in SeasonNarrative.Cautions)
        {
            flow.Paragraph($"–  {caution}", 9.5);
            flow.Space(3);
        }
    }

    private static string Named(FigureDefinition figure, UnitSystem units) =>
        figure.UnitName(units) is { Length: > 0 } unit && figure.Unit != FigureUnit.Share ? $"{figure.Name} [{unit}]" : figure.Name;
}
