using System.Text.Json.Serialization;

namespace StationFleet.Domain.Tanks;

/// <summary>A box that stands level.</summary>
/// <param name="LengthM">Inner length [m].</param>
/// <param name="WidthM">Inner width [m].</param>
/// <param name="BrimHeightM">Inner height [m].</param>
/// <remarks>V = length × width × h. Rounded corners hold less.</remarks>
public sealed record BoxTank(double LengthM, double WidthM, double BrimHeightM) : TankShape
{
    /// <inheritdoc/>
    [JsonIgnore]
    public override double HeightM => BrimHeightM;

    /// <inheritdoc/>
    public override string? Fault() => IsLength(LengthM) && IsLength(WidthM) && IsLength(BrimHeightM)
        ? null
        : "A box needs a length, a width and a height.";

    /// <inheritdoc/>
    protected override double LitresWithin(double levelM) => LengthM * WidthM * levelM * LitresPerCubicMetre;
}
