using System.Globalization;
using System.Text;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>Scores as tables in Markdown, ready for docs/quality.md.</summary>
public static class QualityTable
{
    /// <summary>Writes the tables of one level.</summary>
    /// <param name="score">The score.</param>
    public static string Write(QualityScore score)
    {
        ArgumentNullException.ThrowIfNull(score);
        StringBuilder text = new();
        Line($"### {score.Level}: {Number(QualitySeeds.BoatsPerDay(score.Level))} boats a day, {score.Seasons} station-seasons ({score.Healthy} healthy)");
        Line("");
        Line("| Rule | faults | found | hours, median | boats, median | false a healthy season | false a season, all |");
        Line("| --- | --- | --- | --- | --- | --- | --- |");
        foreach (RuleScore rule in score.Rules)
        {
            string hours = rule.Faults == 0 ? "–" : $"{Of(rule.Hours)} | {Of(rule.Sessions)}";
            Line(rule.IsWatched
                ? $"| {Name(rule.Rule)} | {rule.Faults} | {Found(rule)} | {(rule.Faults == 0 ? "– | –" : hours)} | {Of(rule.FalseHealthy)} | {Of(rule.FalseAll)} |"
                : $"| {Name(rule.Rule)} | {rule.Faults} | not watched for | – | – | – | – |");
        }

        Line("");
        Line("| Fault | faults | found | hours, median | to the first word, hours |");
        Line("| --- | --- | --- | --- | --- |");
        foreach (KindScore kind in score.Kinds)
        {
            Line($"| {Name(kind.Kind.ToString())} | {kind.Faults} | {Percent(kind.Found)} | {Of(kind.Hours)} | {Of(kind.HoursToWord)} |");
        }

        Line("");
        Line("| Tool (share of boats) | times it died | Idle tool: hours | false a season | best plain limit | false a season | its hours | times as long |");
        Line("| --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (ToolScore tool in score.Tools)
        {
            Line($"| {tool.Tool} ({Number(tool.Share)}) | {tool.Faults} | {Of(tool.Hours)} | {Number(tool.False)} | {Number(tool.LimitDays)} d | {Number(tool.LimitFalse)} | {Of(tool.LimitHours)} | {Number(tool.LimitHours.Value / tool.Hours.Value)} |");
        }

        Line($"| all | {score.Tools.Sum(tool => tool.Faults)} | {Of(score.PooledHours)} | {Number(score.Tools.Sum(tool => tool.False))} | each its own | {Number(score.Tools.Sum(tool => tool.LimitFalse))} | {Of(score.PooledLimitHours)} | {Number(score.PooledLimitHours.Value / score.PooledHours.Value)} |");
        foreach (LimitScore limit in score.Limits)
        {
            Line($"| all | {score.Tools.Sum(tool => tool.Faults)} | | | {Number(limit.LimitHours)} h | {Of(limit.False)} | {Of(limit.Hours)} | {Number(limit.Hours.Value / score.PooledHours.Value)} |");
        }

        Line("");
        Line($"The best plain limit takes {Of(score.MedianRatio)} times as long as Idle tool on the median of all dead tools. "
            + (score.WarnedTanks is { } warned ? $"Of {score.FullTanks} tanks that ran full, a ticket told of {Percent(warned)} at least half a day before." : "No tank ran full."));
        Line($"All rules together give {Of(score.FalseTogether)} false tickets a station-season.");
        Line("");
        Line("| Tank forecast, lead of its most likely time | forecasts | 80 % interval held it | its width, days | error, days | line, last 24 h | 72 h | 7 d | since emptying | knowing line, last 24 h | 72 h | 7 d | since emptying |");
        Line("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach ((string lead, TankBandScore band) in score.Tank.Bands.Select(band => (band.Lead, band))
            .Concat(score.Tank.MiddleBands.Select(band => ($"{band.Lead}, by the time as likely before as after", band))))
        {
            Line($"| {lead} | {band.Forecasts} | {(band.Forecasts == 0 ? "–" : Percent(band.Covered))} | {Number(band.WidthDays)} | {Number(band.ErrorDays)} | {string.Join(" | ", band.LineErrorDays.Concat(band.KnowingLineErrorDays).Select(Number))} |");
        }

        Line("");
        Line($"Of {score.Tank.PumpOuts} pump-outs the sensor showed {(score.Tank.Found is { } found ? Precise(found) : "–")}; {Of(score.Tank.False)} a station-season were seen that were none.");
        Charge(score.Charge);
        return text.ToString();

        void Charge(ChargeScore charge)
        {
            if (charge.Leads.Count == 0)
            {
                return;
            }

            Line("");
            Line("| Charge forecast | forecasts | 80 % interval held the truth | width, points | error, points, median | straight line's error |");
            Line("| --- | --- | --- | --- | --- | --- |");
            foreach (ChargeLeadScore lead in charge.Leads)
            {
                Line($"| {lead.Days} d ahead | {lead.Count} | {Percent(lead.Covered)} | {Number(100 * lead.Width)} | {Number(100 * lead.Error)} | {Number(100 * lead.LineError)} |");
            }

            Line("");
            Line("| Said: under its limit within three days | times | came true |");
            Line("| --- | --- | --- |");
            foreach (ChargeWarningScore warning in charge.Warnings)
            {
                Line($"| {Number(100 * warning.From)}–{Number(100 * warning.To)} % | {warning.Count} | {(warning.CameTrue is { } share ? Percent(share) : "–")} |");
            }
        }

        void Line(string line) => text.Append(line).Append('\n');
    }

    private static string Found(RuleScore rule) => rule.Found is { } found
        ? Percent(found) + (rule.MendedOtherwise > 0 ? string.Create(CultureInfo.InvariantCulture, $", {rule.MendedOtherwise} by another rule's ticket") : "")
        : "–";

    // «StationUnused» becomes «Station unused».
    private static string Name(string name) => Enum.TryParse(name, out Rule rule)
        ? ProblemSentences.Name(rule)
        : string.Concat(name.Select((letter, i) => i > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}" : letter.ToString()));

    private static string Of(Bounded bounded) => double.IsNaN(bounded.Value)
        ? "–"
        : $"{Number(bounded.Value)} ({Number(Math.Max(0, bounded.Low))}–{Number(bounded.High)})";

    private static string Percent(Bounded share) => string.Create(
        CultureInfo.InvariantCulture, $"{100 * share.Value:0} % ({100 * share.Low:0}–{100 * share.High:0})");

    private static string Precise(Bounded share) => string.Create(
        CultureInfo.InvariantCulture, $"{100 * share.Value:0.0} % ({100 * share.Low:0.0}–{100 * share.High:0.0})");

    private static string Number(double value) => value switch
    {
        double.NaN => "–",
        double.PositiveInfinity => "never",
        >= 100 => value.ToString("0", CultureInfo.InvariantCulture),
        >= 10 => value.ToString("0.#", CultureInfo.InvariantCulture),
        _ => value.ToString("0.##", CultureInfo.InvariantCulture),
    };
}
