using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Quality;

/// <summary>How good forecasts of a full tank are, among those with about the same predicted lead.</summary>
/// <param name="Lead">The predicted leads.</param>
/// <param name="Forecasts">How many forecasts.</param>
/// <param name="Covered">The share whose 80 % interval held the time at which the tank was full.</param>
/// <param name="WidthDays">Median width of the interval [d].</param>
/// <param name="ErrorDays">Median error of the named time [d].</param>
/// <param name="LineErrorDays">The same of straight lines through the levels of the last 24 h, 72 h, 7 d and since the emptying [d].</param>
/// <param name="KnowingLineErrorDays">The same of straight lines that know what truly came in [d].</param>
public sealed record TankBandScore(
    string Lead, int Forecasts, Bounded Covered, double WidthDays, double ErrorDays, IReadOnlyList<double> LineErrorDays, IReadOnlyList<double> KnowingLineErrorDays);

/// <summary>How good the tank's forecasts are, and how well its emptyings are seen.</summary>
/// <param name="Bands">The forecasts by their predicted lead, that of the most likely time: grouping by what came would flatter or damn any interval.</param>
/// <param name="MiddleBands">The same by the time that is as likely before as after, and its error.</param>
/// <param name="PumpOuts">Pump-outs of at least a tenth of the tank.</param>
/// <param name="Found">The share of them that was seen; null without any.</param>
/// <param name="False">Seen ones that were none, a station-season.</param>
public sealed record TankScore(IReadOnlyList<TankBandScore> Bands, IReadOnlyList<TankBandScore> MiddleBands, int PumpOuts, Bounded? Found, Bounded False)
{
    private static readonly (string Lead, double From, double To)[] Leads =
        [("1 day (0.5–1.5)", 0.5, 1.5), ("3 days (2–4)", 2, 4), ("7 days (5.5–8.5)", 5.5, 8.5), ("over 10 days", 10, double.PositiveInfinity)];

    /// <summary>Sums up the seasons of one level.</summary>
    /// <param name="outcomes">The seasons.</param>
    public static TankScore Of(IReadOnlyList<SeasonOutcome> outcomes)
    {
        ArgumentNullException.ThrowIfNull(outcomes);
        int pumpOuts = outcomes.Sum(season => season.PumpOuts.True);
        return new TankScore(
            [.. Leads.Select(lead => Band(lead, outcomes, one => one.Likeliest))],
            [.. Leads.Select(lead => Band(lead, outcomes, one => one.Middle))],
            pumpOuts,
            pumpOuts == 0 ? null : Bounds.Share(outcomes.Sum(season => season.PumpOuts.Found), pumpOuts),
            Bounds.Rate(outcomes.Sum(season => season.PumpOuts.False), outcomes.Count));
    }

    private static TankBandScore Band((string Lead, double From, double To) lead, IReadOnlyList<SeasonOutcome> outcomes, Func<TankForecastTry, NamedTime> named)
    {
        List<IReadOnlyList<TankForecastTry>> seasons =
            [.. outcomes.Select(season => (IReadOnlyList<TankForecastTry>)[.. season.Forecasts.Where(one => lead.From <= named(one).LeadDays && named(one).LeadDays < lead.To)])];
        List<TankForecastTry> all = [.. seasons.SelectMany(season => season)];
        return new TankBandScore(
            lead.Lead,
            all.Count,
            Bounds.ClusteredShare(seasons.Select(season => (season.Count(one => one.IsCovered), season.Count))),
            Bounds.Median(all.Select(one => one.WidthDays)).Value,
            Bounds.Median(all.Select(one => named(one).ErrorDays)).Value,
            Medians(one => one.LineErrorDays),
            Medians(one => one.KnowingLineErrorDays));

        double[] Medians(Func<TankForecastTry, IReadOnlyList<double>> errors) =>
            [.. Enumerable.Range(0, 4).Select(line => Bounds.Median(all.Select(one => errors(one)[line])).Value)];
    }
}
