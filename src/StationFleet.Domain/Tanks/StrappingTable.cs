using System.Text.Json.Serialization;
using MathNet.Numerics.Interpolation;

namespace StationFleet.Domain.Tanks;

/// <summary>A height of the liquid and the volume that was poured in up to there.</summary>
/// <param name="LevelM">Liquid height above the bottom [m].</param>
/// <param name="Litres">Volume [L].</param>
public sealed record StrappingRow(double LevelM, double Litres);

/// <summary>A tank of any shape, measured by pouring known amounts in: the best way for an odd one.</summary>
/// <param name="Rows">The rows, ascending in height.</param>
/// <remarks>
/// Between the rows a monotone piecewise cubic (PCHIP), never a free spline, which could make the volume fall as the liquid rises.
/// Source: F. N. Fritsch and R. E. Carlson, Monotone piecewise cubic interpolation, SIAM J. Numer. Anal. 17 (1980) 238–246, with
/// the slopes of F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300–304. Outside the rows the nearest one counts.
/// </remarks>
public sealed record StrappingTable(IReadOnlyList<StrappingRow> Rows) : TankShape
{
    /// <summary>The fewest rows that make a curve.</summary>
    public const int FewestRows = 3;

    /// <summary>The most rows that a table may have.</summary>
    public const int MostRows = 500;

    private CubicSpline? _curve;

    /// <summary>The rows, ascending in height.</summary>
    public IReadOnlyList<StrappingRow> Rows { get; } = Rows;

    /// <inheritdoc/>
    [JsonIgnore]
    public override double HeightM => Rows[^1].LevelM;

    /// <inheritdoc/>
    public override string? Fault()
    {
        if (Rows.Count is < FewestRows or > MostRows)
        {
            return $"A strapping table needs {FewestRows} to {MostRows} rows.";
        }

        if (Rows.Any(row => !double.IsFinite(row.LevelM) || !double.IsFinite(row.Litres) || row.LevelM < 0 || row.Litres < 0))
        {
            return "Heights and volumes of a strapping table are numbers from nought up.";
        }

        int wrong = Enumerable.Range(1, Rows.Count - 1)
            .FirstOrDefault(i => Rows[i].LevelM <= Rows[i - 1].LevelM || Rows[i].Litres < Rows[i - 1].Litres);
        return wrong > 0 ? $"Row {wrong + 1} of the strapping table is not higher than the one before, or holds less."
            : Rows[^1].Litres <= 0 ? "The strapping table holds nothing." : null;
    }

    /// <summary>Whether two tables have the same rows.</summary>
    /// <param name="other">The other table.</param>
    public bool Equals(StrappingTable? other) => other is not null && Rows.SequenceEqual(other.Rows);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Rows.Count, Rows.Count > 0 ? Rows[^1] : null);

    /// <inheritdoc/>
    protected override double LitresWithin(double levelM)
    {
        if (levelM <= Rows[0].LevelM)
        {
            // Under the first row nothing was measured: in proportion down to the bottom.
            return Rows[0].LevelM > 0 ? Rows[0].Litres * levelM / Rows[0].LevelM : Rows[0].Litres;
        }

        return Curve().Interpolate(levelM);
    }

    private CubicSpline Curve() => _curve ??= CubicSpline.InterpolatePchipSorted(
        [.. Rows.Select(row => row.LevelM)], [.. Rows.Select(row => row.Litres)]);
}
