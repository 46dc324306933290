using StationFleet.Domain.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Service.Photographs;

namespace StationFleet.Web.Service;

/// <summary>What every form about a ticket carries beside what was typed.</summary>
/// <param name="Number">The ticket's number.</param>
/// <param name="Key">Made with the form: the same form sent twice is one event.</param>
/// <param name="Version">The ticket's version when the form was made.</param>
/// <param name="Seen">The newest event that the form showed.</param>
/// <param name="Viewer">Who sends it.</param>
internal sealed record TicketForm(int Number, string Key, int Version, int Seen, Viewer Viewer)
{
    /// <summary>Keys of forms that the same phone sent before this one: what they did is no news to the person.</summary>
    public IReadOnlyList<string> Own { get; init; } = [];

    public SentPhotographs Photographs { get; init; } = SentPhotographs.None;

    /// <summary>Reads a hidden field that the phone's queue fills: keys, divided by spaces.</summary>
    public static IReadOnlyList<string> KeysIn(string field) => field.Split(' ', StringSplitOptions.RemoveEmptyEntries);
}

/// <summary>What came of something that a person did to a ticket; the operations share it, since one form leads to all of them.</summary>
internal abstract record TicketAnswer
{
    private TicketAnswer()
    {
    }

    internal sealed record Done : TicketAnswer;

    /// <summary>The same form came before and did its work then.</summary>
    internal sealed record AlreadyDone : TicketAnswer;

    /// <summary>Somebody else did something meanwhile; nothing was stored.</summary>
    internal sealed record Changed(IReadOnlyList<Happening> Meanwhile) : TicketAnswer;

    /// <summary>Something typed is wrong; nothing was stored.</summary>
    /// <param name="Errors">By the field's name.</param>
    internal sealed record Wrong(IReadOnlyDictionary<string, string> Errors) : TicketAnswer;

    internal sealed record NotAllowed : TicketAnswer;

    internal sealed record Unknown : TicketAnswer;
}

/// <summary>One thing that happened to a ticket, for its history.</summary>
public sealed record Happening(int Id, DateTimeOffset At, TicketEventKind Kind, string? Who, string? Note);
