using System.Text.Json.Serialization;

namespace StationFleet.Domain.Tanks;

/// <summary>An upright tank of even cross-section of which a height and its volume are known, whatever its outline.</summary>
/// <param name="FullHeightM">Liquid height at which it holds the volume [m].</param>
/// <param name="FullLitres">The volume at that height [L].</param>
/// <remarks>Its brim is not known, so a reading above that height gives more litres, in proportion.</remarks>
public sealed record EvenTank(double FullHeightM, double FullLitres) : TankShape
{
    /// <inheritdoc/>
    [JsonIgnore]
    public override double HeightM => FullHeightM;

    /// <inheritdoc/>
    public override double LitresAt(double levelM) => LitresWithin(Math.Max(0, levelM));

    /// <inheritdoc/>
    public override double LevelAt(double litres) => Math.Max(0, litres) / FullLitres * FullHeightM;

    /// <inheritdoc/>
    public override string? Fault() => IsLength(FullHeightM) && FullLitres > 0 ? null : "An even tank needs a height and its volume.";

    /// <inheritdoc/>
    protected override double LitresWithin(double levelM) => levelM / FullHeightM * FullLitres;
}
