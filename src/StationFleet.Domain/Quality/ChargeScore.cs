using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Quality;

/// <summary>How good the forecast of the charge is at one lead.</summary>
/// <param name="Days">How many days ahead.</param>
/// <param name="Count">How many forecasts.</param>
/// <param name="Covered">The share of them whose 80 % interval held the truth.</param>
/// <param name="Width">The median width of the interval, 0 to 1.</param>
/// <param name="Error">The median distance of its middle from the truth, 0 to 1.</param>
/// <param name="LineError">The same of a straight line through the last two midnights.</param>
public sealed record ChargeLeadScore(int Days, int Count, Bounded Covered, double Width, double Error, double LineError);

/// <summary>How often a warning came true.</summary>
/// <param name="From">Said with at least this, 0 to 1…</param>
/// <param name="To">…and less than this.</param>
/// <param name="Count">How often it was said.</param>
/// <param name="CameTrue">The share of them that came true; null when it was never said.</param>
public sealed record ChargeWarningScore(double From, double To, int Count, Bounded? CameTrue);

/// <summary>How good the forecasts of the charge are.</summary>
/// <param name="Leads">By lead.</param>
/// <param name="Warnings">By what was said.</param>
public sealed record ChargeScore(IReadOnlyList<ChargeLeadScore> Leads, IReadOnlyList<ChargeWarningScore> Warnings)
{
    private static readonly double[] Said = [0, 0.05, 0.2, 0.5, 0.8, 1.01];

    /// <summary>Sums up the seasons of one level.</summary>
    /// <param name="seasons">What was forecast in each.</param>
    public static ChargeScore Of(IReadOnlyList<ChargeTries> seasons)
    {
        ArgumentNullException.ThrowIfNull(seasons);
        List<ChargeTry> tries = [.. seasons.SelectMany(season => season.Tries)];
        List<ChargeWarning> warnings = [.. seasons.SelectMany(season => season.Warnings)];
        return new ChargeScore(
            [.. tries.GroupBy(one => one.Days).OrderBy(lead => lead.Key).Select(lead => Lead(lead.Key, [.. lead]))],
            [.. Said.Zip(Said.Skip(1)).Select(range => Warning(range.First, range.Second, warnings))]);
    }

    private static ChargeLeadScore Lead(int days, ChargeTry[] tries) => new(
        days,
        tries.Length,
        Bounds.Share(tries.Count(one => one.Band.Low <= one.Truth && one.Truth <= one.Band.High), tries.Length),
        Quantiles.Of([.. tries.Select(one => one.Band.High - one.Band.Low)], 0.5),
        Quantiles.Of([.. tries.Select(one => Math.Abs(one.Band.Middle - one.Truth))], 0.5),
        Quantiles.Of([.. tries.Select(one => Math.Abs(one.Line - one.Truth))], 0.5));

    private static ChargeWarningScore Warning(double from, double to, List<ChargeWarning> warnings)
    {
        List<ChargeWarning> said = warnings.FindAll(warning => from <= warning.WithinThreeDays && warning.WithinThreeDays < to);
        return new ChargeWarningScore(from, Math.Min(1, to), said.Count, said.Count == 0 ? null : Bounds.Share(said.Count(warning => warning.CameTrue), said.Count));
    }
}
