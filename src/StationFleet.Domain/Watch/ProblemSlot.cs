namespace StationFleet.Domain.Watch;

/// <summary>A two-state switch with a delay each way.</summary>
/// <param name="OnSince">When it came on; null while off.</param>
/// <param name="PendingSince">Since when the signal has asked for the other state, without a break; null when it does not.</param>
public readonly record struct ProblemSwitch(DateTimeOffset? OnSince, DateTimeOffset? PendingSince)
{
    /// <summary>The switch after the next signal.</summary>
    /// <param name="isOver">The signal asks for on.</param>
    /// <param name="isClear">The signal asks for off; between the two lies the dead-band.</param>
    /// <param name="signalAt">When the signal was measured, so that a delay only runs while there are readings.</param>
    /// <param name="delay">How long the signal must ask.</param>
    /// <param name="now">The instant of judging.</param>
    public ProblemSwitch Next(bool isOver, bool isClear, DateTimeOffset signalAt, TimeSpan delay, DateTimeOffset now)
    {
        bool asksForOther = OnSince is null ? isOver : isClear;
        if (!asksForOther)
        {
            return this with { PendingSince = null };
        }

        DateTimeOffset pending = PendingSince ?? signalAt;
        return signalAt - pending < delay
            ? this with { PendingSince = pending }
            : new ProblemSwitch(OnSince is null ? now : null, null);
    }
}

/// <summary>What has been alarmed about one part of a station; never unwound, since people were told.</summary>
public sealed record ProblemSlot
{
    /// <summary>The rule.</summary>
    public required Rule Rule { get; init; }

    /// <summary>The part it is about: a tool's slug, or empty for the whole station.</summary>
    public required string Part { get; init; }

    /// <summary>Whether it is due soon.</summary>
    public ProblemSwitch Soon { get; set; }

    /// <summary>Whether it needs a visit.</summary>
    public ProblemSwitch Raise { get; set; }

    /// <summary>What it asks of people now; null while nothing is on.</summary>
    public Urgency? Urgency() => (Raise.OnSince, Soon.OnSince) switch
    {
        ({ }, _) => Watch.Urgency.NeedsVisit,
        (_, { }) => Watch.Urgency.DueSoon,
        _ => null,
    };

    /// <summary>Whether nothing is on and nothing pending: such a slot need not be kept.</summary>
    internal bool IsEmpty() => Soon == default && Raise == default;
}
