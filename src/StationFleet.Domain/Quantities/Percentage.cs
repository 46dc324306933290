using System.Globalization;

namespace StationFleet.Domain.Quantities;

/// <summary>A share in hundredths of a percent, so that shares add up to a whole without a rest: 33.33 % + 33.33 % + 33.34 %.</summary>
/// <param name="Hundredths">0 to 10,000.</param>
public readonly record struct Percentage(int Hundredths)
{
    /// <summary>100 %.</summary>
    public static Percentage Whole { get; } = new(10_000);

    /// <summary>The share as a number from 0 to 1.</summary>
    public decimal Fraction => Hundredths / 10_000m;

    /// <summary>A share given in percent, to the nearest hundredth of one.</summary>
    /// <param name="percent">Such as 60 or 33.33.</param>
    public static Percentage Of(decimal percent) => new((int)Math.Round(percent * 100, MidpointRounding.AwayFromZero));

    /// <summary>The sum of shares.</summary>
    /// <param name="shares">The shares.</param>
    public static Percentage Sum(IEnumerable<Percentage> shares) => new(shares.Sum(share => share.Hundredths));

    /// <summary>As people read it: «60 %», «33.33 %».</summary>
    public override string ToString() => (Hundredths / 100m).ToString("0.##", CultureInfo.InvariantCulture) + " %";
}
