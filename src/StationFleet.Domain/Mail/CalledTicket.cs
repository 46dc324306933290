using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Mail;

/// <summary>Why somebody is told of a ticket; names are stored and must not change.</summary>
public enum CallReason
{
    /// <summary>It was raised.</summary>
    Raised,

    /// <summary>It came back after it had been closed.</summary>
    Reopened,

    /// <summary>Those who were told before have not taken it.</summary>
    NotTaken,
}

/// <summary>A ticket that somebody is told of.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Station">The station's code.</param>
/// <param name="Place">Where it stands, such as «Dam Road access, Copperline Reservoir»; null in transit.</param>
/// <param name="Rule">The rule.</param>
/// <param name="Evidence">The numbers.</param>
/// <param name="At">When the ticket was raised or reopened.</param>
/// <param name="Reason">Why the person is told.</param>
/// <param name="ToldBefore">Who was told before; null: nobody.</param>
/// <param name="Url">The address of its page.</param>
/// <param name="Zone">The access's time zone.</param>
public sealed record CalledTicket(
    int Number, string Station, string? Place, Rule Rule, Evidence Evidence, DateTimeOffset At, CallReason Reason, string? ToldBefore, string Url,
    TimeZoneInfo Zone)
{
    /// <summary>The cautions and steps of the rules.</summary>
    public Guidance Guidance { get; init; } = Guidance.Defaults;
}
