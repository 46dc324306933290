using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Pdf;

namespace StationFleet.Reports.Seasons;

/// <summary>The part of the printed season that samples tell: what the collected water held, and when in the season most.</summary>
internal static class SeasonSamplesPdf
{
    public static void Write(PdfFlow flow, SeasonReport report, UnitSystem units)
    {
        flow.Heading("What the collected water held");
        if (report.Removals.Count == 0)
        {
            flow.Paragraph("No sample of these days tells of an organism that may be told.");
            return;
        }

        foreach (SeasonRemoval removal in report.Removals.Where(IsFound))
        {
            flow.Entry(
                string.Create(CultureInfo.InvariantCulture, $"{removal.Name}, {removal.Water}, {removal.Year}"),
                SeasonTotalWords.Sentence(removal.Total, units),
                string.Join(" ", removal.Total.Labels.Select(label => SeasonTotalWords.Label(label, removal.Total))));
        }

        SeasonRemoval[] none = [.. report.Removals.Where(removal => !IsFound(removal))];
        if (none.Length > 0)
        {
            flow.Need(100);
            flow.Paragraph("Looked for and not found", isBold: true);
            flow.Space(3);
            flow.Table(
                [
                    new PdfColumn("Organism", 2.2), new PdfColumn("Water, year", 2), new PdfColumn("Fewer than", 0.9, IsNumber: true), new PdfColumn("Said of", 1.7),
                    new PdfColumn("Collections sampled", 1.2, IsNumber: true), new PdfColumn("Of the water", 0.9, IsNumber: true), new PdfColumn("Without a sample", 1.3),
                ],
                none.Select(removal => (IReadOnlyList<string>)
                [
                    removal.Name, string.Create(CultureInfo.InvariantCulture, $"{removal.Water}, {removal.Year}"),
                    NumberWords.Figures((removal.Total.Estimate ?? removal.Total.MeasuredPart).High), removal.Total.Estimate is null ? "the sampled water alone" : "the collected water",
                    string.Create(CultureInfo.InvariantCulture, $"{removal.Total.SampledPeriods} of {removal.Total.Periods}"), SeasonWords.Percent(removal.ShareSampled),
                    SeasonTotalWords.Months(removal.Total.MonthsMissing),
                ]));
            flow.Space(6);
        }

        flow.Paragraph("Alive or dead is not determined; no count of introductions prevented. Limits are at 95 %.", 8, PdfPalette.Ink2);
        foreach (SeasonRemoval removal in report.Removals.Where(IsFound))
        {
            flow.Need(340);
            flow.Heading(string.Create(CultureInfo.InvariantCulture, $"When it is most: {removal.Name}, {removal.Water}, {removal.Year}"));
            flow.Paragraph(MonthWords.Sentence(removal.Months));
            flow.Picture(130, (page, place) => SeasonPictures.Concentration(page, place, removal.Months));
            flow.Table(
                [
                    new PdfColumn("Month", 1.4), new PdfColumn("In a litre", 1, IsNumber: true), new PdfColumn("95 % interval", 1.6, IsNumber: true),
                    new PdfColumn("Tank periods sampled", 1.4, IsNumber: true), new PdfColumn("Counted", 1, IsNumber: true), new PdfColumn("Looked through, L", 1.3, IsNumber: true),
                ],
                removal.Months.Months.Select(month => (IReadOnlyList<string>)
                [
                    SeasonTotalWords.Months([month.Month]),
                    month.Value is { } value ? Say(value.Value) : "no sample", month.Value is { } limits ? $"{Say(limits.Low)} to {Say(limits.High)}" : "",
                    NumberWords.Figures(month.SampledPeriods), NumberWords.Figures(month.Count), month.ExaminedLitres.ToString("0.##", CultureInfo.InvariantCulture),
                ]));
        }
    }

    private static bool IsFound(SeasonRemoval removal) => removal.Months.Months.Any(month => month.Count > 0);

    private static string Say(double value) => NumberWords.Significant(value, 2);
}
