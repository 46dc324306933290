using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Grants;

/// <summary>Shares of a whole, such as the owners of an item.</summary>
public static class Shares
{
    /// <summary>What is wrong with a list of shares, in a sentence; null when each is above nothing and they make a whole.</summary>
    /// <param name="shares">The shares.</param>
    public static string? Fault(IReadOnlyCollection<Percentage> shares)
    {
        ArgumentNullException.ThrowIfNull(shares);
        Percentage sum = Percentage.Sum(shares);
        return shares.Any(share => share.Hundredths <= 0) ? "Each share is above 0 %: leave out who has none."
            : sum == Percentage.Whole ? null
            : $"The shares make {sum}; they must make 100 %.";
    }
}
