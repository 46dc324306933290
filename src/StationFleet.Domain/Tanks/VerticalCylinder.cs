using System.Text.Json.Serialization;

namespace StationFleet.Domain.Tanks;

/// <summary>A round tank that stands, with a flat bottom: a drum.</summary>
/// <param name="DiameterM">Inner diameter [m].</param>
/// <param name="BrimHeightM">Inner height [m].</param>
/// <remarks>V = π D² h / 4.</remarks>
public sealed record VerticalCylinder(double DiameterM, double BrimHeightM) : TankShape
{
    /// <inheritdoc/>
    [JsonIgnore]
    public override double HeightM => BrimHeightM;

    /// <inheritdoc/>
    public override string? Fault() =>
        IsLength(DiameterM) && IsLength(BrimHeightM) ? null : "A standing cylinder needs a diameter and a height.";

    /// <inheritdoc/>
    protected override double LitresWithin(double levelM) => Math.PI * DiameterM * DiameterM / 4 * levelM * LitresPerCubicMetre;
}
