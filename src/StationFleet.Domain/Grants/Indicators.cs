using StationFleet.Domain.Seasons;

namespace StationFleet.Domain.Grants;

/// <summary>One line of an award's indicator table.</summary>
/// <param name="Label">Its label.</param>
/// <param name="Description">What it counts.</param>
/// <param name="Target">What the award promised; null when it named no number.</param>
/// <param name="Actual">What was reached; null when it is not known.</param>
/// <param name="Unit">Its unit; empty for a count.</param>
/// <param name="Note">What has to be said to it.</param>
public sealed record IndicatorLine(string Label, string Description, double? Target, double? Actual, string Unit, string Note)
{
    /// <summary>A line whose actual is a season figure.</summary>
    /// <param name="label">Its label.</param>
    /// <param name="description">What it counts; empty takes the figure's definition.</param>
    /// <param name="target">The target in the figure's unit as people read it: percent, and litres or gallons.</param>
    /// <param name="figure">The figure.</param>
    /// <param name="units">The readers' units.</param>
    /// <param name="note">What has to be said to it.</param>
    public static IndicatorLine Of(
        string label, string description, double? target, FigureValue figure, Quantities.UnitSystem units, string note)
    {
        FigureDefinition definition = figure.Definition;
        double? actual = (figure.Value, definition.Unit) switch
        {
            ({ } share, FigureUnit.Share) => 100 * share,
            ({ } litres, FigureUnit.Volume) => Quantities.Units.VolumeFor(litres, units),
            var (value, _) => value,
        };
        return new IndicatorLine(
            label, description.Length > 0 ? description : definition.Definition, target, actual, definition.UnitName(units), note);
    }
}
