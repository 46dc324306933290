namespace StationFleet.Domain.Power;

/// <summary>When a battery's charge falls under a limit, as far as can be told.</summary>
/// <param name="MadeAt">When this was reckoned.</param>
/// <param name="ChargeShare">The charge then, 0 to 1.</param>
/// <param name="LimitShare">The limit, 0 to 1.</param>
/// <param name="WithinResponse">How likely it falls under the limit before somebody can be there, 0 to 1.</param>
/// <param name="WithinThreeDays">How likely it does within three days, 0 to 1.</param>
/// <param name="Early">It falls under the limit before this with 10 %; null: not within the week.</param>
/// <param name="Likeliest">The middle, by chance, of the shortest stretch that holds half of the chance; null: not within the week.</param>
/// <param name="Late">…with 90 %.</param>
public sealed record ChargeForecast(
    DateTimeOffset MadeAt,
    double ChargeShare,
    double LimitShare,
    double WithinResponse,
    double WithinThreeDays,
    DateTimeOffset? Early,
    DateTimeOffset? Likeliest,
    DateTimeOffset? Late)
{
    /// <summary>How far ahead it is reckoned.</summary>
    public static readonly TimeSpan Ahead = TimeSpan.FromDays(7);

    /// <summary>Under this it is told as unlikely.</summary>
    public const double PossibleFrom = 0.2;

    /// <summary>From this on it is told as more likely than not; more is never said, since such forecasts are over-confident.</summary>
    public const double LikelyFrom = 0.5;

    /// <summary>How likely that it falls under the limit within three days, in a word.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public string InWords => WithinThreeDays switch
    {
        < PossibleFrom => "unlikely",
        < LikelyFrom => "possible",
        _ => "more likely than not",
    };
}

/// <summary>A battery's charge at an instant ahead: with 80 % it lies between low and high.</summary>
/// <param name="At">When.</param>
/// <param name="Low">10 %.</param>
/// <param name="Middle">50 %.</param>
/// <param name="High">90 %.</param>
public readonly record struct ChargeBand(DateTimeOffset At, double Low, double Middle, double High);
