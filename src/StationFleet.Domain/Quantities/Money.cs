using System.Globalization;

namespace StationFleet.Domain.Quantities;

/// <summary>An amount of money in hundredths of the installation's one currency; may be negative, as a reversal is.</summary>
/// <param name="Cents">Hundredths of the currency's unit.</param>
public readonly record struct Money(long Cents) : IComparable<Money>
{
    /// <summary>The largest amount that a form takes.</summary>
    public const long MostCents = 10_000_000_000;

    /// <summary>The sum of two amounts.</summary>
    public static Money operator +(Money one, Money other) => new(one.Cents + other.Cents);

    /// <summary>The difference of two amounts.</summary>
    public static Money operator -(Money one, Money other) => new(one.Cents - other.Cents);

    /// <summary>Whether the first amount is the larger.</summary>
    public static bool operator >(Money one, Money other) => one.Cents > other.Cents;

    /// <summary>Whether the first amount is the smaller.</summary>
    public static bool operator <(Money one, Money other) => one.Cents < other.Cents;

    /// <summary>Whether the first amount is the larger or the same.</summary>
    public static bool operator >=(Money one, Money other) => one.Cents >= other.Cents;

    /// <summary>Whether the first amount is the smaller or the same.</summary>
    public static bool operator <=(Money one, Money other) => one.Cents <= other.Cents;

    /// <summary>The amount in the currency's unit.</summary>
    public decimal Amount => Cents / 100m;

    /// <summary>An amount given in the currency's unit, to the nearest hundredth, halves away from zero.</summary>
    /// <param name="amount">Such as 12.50.</param>
    public static Money Of(decimal amount) => new((long)Math.Round(amount * 100, MidpointRounding.AwayFromZero));

    /// <summary>A share of the amount, to the nearest hundredth, halves away from zero.</summary>
    /// <param name="share">The share.</param>
    public Money Part(Percentage share) => Of(Amount * share.Fraction);

    /// <summary>The smaller of two amounts.</summary>
    /// <param name="one">One.</param>
    /// <param name="other">The other.</param>
    public static Money Smaller(Money one, Money other) => one.Cents <= other.Cents ? one : other;

    /// <summary>The sum of amounts; nothing of none.</summary>
    /// <param name="amounts">The amounts.</param>
    public static Money Sum(IEnumerable<Money> amounts) => amounts.Aggregate(default(Money), (sum, amount) => sum + amount);

    /// <summary>As people read it: «$12,000» or «$12,000.50».</summary>
    /// <param name="sign">The currency's sign, which stands before the amount.</param>
    public string Say(string sign) =>
        (Cents < 0 ? "−" : "") + sign + Math.Abs(Amount).ToString(Cents % 100 == 0 ? "#,##0" : "#,##0.00", CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    public int CompareTo(Money other) => Cents.CompareTo(other.Cents);
}
