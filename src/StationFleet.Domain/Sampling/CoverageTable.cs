using System.Globalization;
using System.Text;

namespace StationFleet.Domain.Sampling;

/// <summary>The coverage trial's results as Markdown.</summary>
public static class CoverageTable
{
    /// <summary>Regimes as rows, concentrations as columns; then the weakest of those with three grabs or more.</summary>
    /// <param name="cells">The results, in the order of the regimes.</param>
    public static string Write(IReadOnlyList<CoverageCell> cells)
    {
        ArgumentNullException.ThrowIfNull(cells);
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"| grabs | water | volume s | {string.Join(" | ", CoverageRegime.Concentrations.Select(c => Number(c) + " /L"))} | upper ÷ estimate at 50 /L |\n");
        text.Append(CultureInfo.InvariantCulture, $"| --- | --- | --- {string.Concat(CoverageRegime.Concentrations.Select(_ => "| --- "))}| --- |\n");
        foreach (IGrouping<CoverageRegime, CoverageCell> row in cells.GroupBy(cell => cell.Regime))
        {
            string shares = string.Join(" | ", row.Select(cell => (100 * cell.Share.Value).ToString("0.0", CultureInfo.InvariantCulture)));
            string ratio = row.Last().UpperToEstimate is { } upper ? upper.ToString("0.00", CultureInfo.InvariantCulture) : "";
            text.Append(CultureInfo.InvariantCulture, $"| {row.Key.Name} | {row.Key.Water} | {Number(row.Key.VolumeSd)} | {shares} | {ratio} |\n");
        }

        if (cells.Where(cell => cell.Regime.Grabs.Count >= 3).MinBy(cell => cell.Share.Value) is { } weakest)
        {
            text.Append(CultureInfo.InvariantCulture, $"\nLeast coverage with three grabs or more: {Percent(weakest.Share.Value)} ({Percent(weakest.Share.Low)} to {Percent(weakest.Share.High)} by the luck of {weakest.Runs} runs), {weakest.Regime.Name}, {weakest.Regime.Water}, s = {Number(weakest.Regime.VolumeSd)}, {Number(weakest.PerLitre)} /L.\n");
        }

        return text.ToString();
    }

    /// <summary>Season designs as rows, mean concentrations and the difference between tanks as columns.</summary>
    /// <param name="cells">The results, in the order of the designs, then of the differences.</param>
    public static string Write(IReadOnlyList<SeasonCell> cells)
    {
        ArgumentNullException.ThrowIfNull(cells);
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"| season | tanks differ by | {string.Join(" | ", SeasonCoverage.Concentrations.Select(c => Number(c) + " /L"))} |\n");
        text.Append(CultureInfo.InvariantCulture, $"| --- | --- {string.Concat(SeasonCoverage.Concentrations.Select(_ => "| --- "))}|\n");
        foreach (IGrouping<(SeasonDesign Design, double Cv), SeasonCell> row in cells.GroupBy(cell => (cell.Design, cell.BetweenCv)))
        {
            string shares = string.Join(" | ", row.Select(cell => (100 * cell.Share.Value).ToString("0.0", CultureInfo.InvariantCulture)));
            text.Append(CultureInfo.InvariantCulture, $"| {row.Key.Design.Name} | {Number(row.Key.Cv)} | {shares} |\n");
        }

        return text.ToString();
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Percent(double share) => (100 * share).ToString("0.0", CultureInfo.InvariantCulture) + " %";
}
