using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Grants;

/// <summary>How a unit left, or was kept after its award's purpose ended.</summary>
public enum DispositionMethod
{
    /// <summary>Sold.</summary>
    Sold,

    /// <summary>Kept for other work.</summary>
    Kept,

    /// <summary>Given to the funder or to another recipient.</summary>
    Transferred,

    /// <summary>Thrown away.</summary>
    Scrapped,

    /// <summary>Lost, stolen or destroyed.</summary>
    Lost,
}

/// <summary>What one award is owed when a unit is disposed of.</summary>
/// <param name="Share">The award's share of the amount.</param>
/// <param name="KeptForHandling">What may be kept of it for selling and handling.</param>
/// <param name="Reason">Why, in a sentence.</param>
public sealed record ShareOwed(Money Share, Money KeptForHandling, string Reason)
{
    /// <summary>What is to be paid.</summary>
    public Money Owed => Share - KeptForHandling;
}

/// <summary>Reckons what a funder is owed.</summary>
public static class Disposition
{
    /// <summary>What one award is owed for a unit that is sold, or kept for other work.</summary>
    /// <param name="method">How it left.</param>
    /// <param name="worth">The proceeds of a sale, otherwise the present fair market value; 0 or more.</param>
    /// <param name="fairMarketValue">The present fair market value, by which the threshold goes; 0 or more.</param>
    /// <param name="share">The award's share of the unit's cost.</param>
    /// <param name="terms">The award's rules.</param>
    /// <remarks>
    /// Source: 2 CFR 200.313(e): at or under the threshold nothing is owed; above it the share times the proceeds or value, of
    /// which a seller may keep the lesser of a fixed sum and a tenth of the proceeds. The award's own terms prevail.
    /// </remarks>
    public static ShareOwed Owed(DispositionMethod method, Money worth, Money fairMarketValue, Percentage share, AwardTerms terms)
    {
        ArgumentNullException.ThrowIfNull(terms);
        if (method is DispositionMethod.Transferred)
        {
            return new ShareOwed(default, default, "It went where the funder said: what the recipient put in may be owed to the recipient. Ask.");
        }

        if (method is DispositionMethod.Lost)
        {
            return new ShareOwed(default, default, "Lost, stolen or destroyed: look into it, write down what was found, and ask the funder.");
        }

        if (fairMarketValue <= terms.NothingOwedUpTo)
        {
            return new ShareOwed(default, default, "Its value is at or under the threshold: nothing is owed.");
        }

        Money part = worth.Part(share);
        Money kept = method is DispositionMethod.Sold
            ? Money.Smaller(part, Money.Smaller(terms.MostForHandling, worth.Part(terms.HandlingShare)))
            : default;
        return new ShareOwed(part, kept, method is DispositionMethod.Sold
            ? "Its value is over the threshold: the share of the proceeds is owed, less what may be kept for selling and handling."
            : "Its value is over the threshold: the share of the value is owed.");
    }
}
