using System.Text.Json.Serialization;

namespace StationFleet.Domain.Tanks;

/// <summary>A round tank that lies level, with flat ends.</summary>
/// <param name="DiameterM">Inner diameter [m].</param>
/// <param name="LengthM">Inner length from end to end [m].</param>
/// <remarks>
/// V = L [r² acos((r − h)/r) − (r − h) √(2rh − h²)], the area of a circular segment times the length. Dished ends hold more than
/// this: a tank with dished ends is better measured by pails into a <see cref="StrappingTable"/>.
/// </remarks>
public sealed record HorizontalCylinder(double DiameterM, double LengthM) : TankShape
{
    /// <inheritdoc/>
    [JsonIgnore]
    public override double HeightM => DiameterM;

    /// <inheritdoc/>
    public override string? Fault() =>
        IsLength(DiameterM) && IsLength(LengthM) ? null : "A lying cylinder needs a diameter and a length.";

    /// <inheritdoc/>
    protected override double LitresWithin(double levelM)
    {
        double radiusM = DiameterM / 2;
        double aboveM = radiusM - levelM;
        double segmentM2 = (radiusM * radiusM * Math.Acos(Math.Clamp(aboveM / radiusM, -1, 1)))
            - (aboveM * Math.Sqrt(Math.Max(0, levelM * (DiameterM - levelM))));
        return segmentM2 * LengthM * LitresPerCubicMetre;
    }
}
