using System.Globalization;

namespace StationFleet.Domain.Sampling;

/// <summary>Invented circumstances in which the removal estimate's interval is tried.</summary>
/// <param name="Name">What it is called in the table.</param>
/// <param name="Grabs">Litres examined in each grab of the tank [L].</param>
/// <param name="OtherTanks">Other tanks of the season, with the same grabs; patchiness is learnt from all.</param>
/// <param name="OtherGrabs">Litres examined in each grab of those [L].</param>
/// <param name="Size">k of the patchiness between grabs; null when the water is well mixed.</param>
/// <param name="VolumeSd">Relative uncertainty of the tank's volume.</param>
/// <param name="TankLitres">The tank's volume [L].</param>
public sealed record CoverageRegime(
    string Name, IReadOnlyList<double> Grabs, int OtherTanks, IReadOnlyList<double> OtherGrabs, int? Size, double VolumeSd, double TankLitres = 1000)
{
    /// <summary>Mean organisms in a litre that each regime is tried with.</summary>
    public static IReadOnlyList<double> Concentrations { get; } = [0.01, 0.1, 0.5, 1, 5, 20, 50];

    /// <summary>All regimes of the table in docs/estimates.md.</summary>
    public static IReadOnlyList<CoverageRegime> All { get; } = [.. Every()];

    /// <summary>The patchiness in words.</summary>
    public string Water => Size is { } k ? string.Create(CultureInfo.InvariantCulture, $"k = {k}") : "well mixed";

    private static IEnumerable<CoverageRegime> Every()
    {
        double[] one = [1];
        double[] three = [1, 1, 1];
        double[] five = [1, 1, 1, 1, 1];
        double[] unequal = [1, 2, 4];
        int?[] sizes = [null, 5, 1];
        double[] sds = [0, 0.05, 0.15];
        return
        [
            .. sizes.SelectMany(k => (double[])[0, 0.15], (k, sd) => new CoverageRegime("1 grab, nothing known", one, 0, [], k, sd)),
            .. sizes.Select(k => new CoverageRegime("1 grab, 4 other tanks of 3", one, 4, three, k, 0.05)),
            .. sizes.SelectMany(k => sds, (k, sd) => new CoverageRegime("3 grabs, 4 other tanks of 3", three, 4, three, k, sd)),
            .. sizes.SelectMany(k => sds, (k, sd) => new CoverageRegime("5 grabs, 4 other tanks of 5", five, 4, five, k, sd)),
            .. sizes.Select(k => new CoverageRegime("3 grabs of 1, 2, 4 L, 4 other tanks of the same", unequal, 4, unequal, k, 0.05)),
            .. sizes.Select(k => new CoverageRegime("3 grabs, a quarter of a tank of 12 L, 4 other tanks of 3", three, 4, three, k, 0, 12)),
        ];
    }
}
