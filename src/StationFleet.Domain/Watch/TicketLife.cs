using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;

namespace StationFleet.Domain.Watch;

/// <summary>One stretch in which a ticket asked for a visit: from raised, or reopened, until it was done.</summary>
/// <param name="Opened">When it began.</param>
/// <param name="Taken">When somebody first took the ticket in it; null when nobody has.</param>
/// <param name="Closed">When the work was done; null while open.</param>
/// <param name="Outcome">How it ended; null while open, and for a closing that did not last.</param>
public sealed record TicketSpell(DateTimeOffset Opened, DateTimeOffset? Taken, DateTimeOffset? Closed, TicketOutcome? Outcome);

/// <summary>What a ticket asked of people, for judging the watch.</summary>
/// <param name="Number">The number that people say.</param>
/// <param name="Station">The station's code.</param>
/// <param name="Rule">The rule that raised it.</param>
/// <param name="Part">The part it is about: a tool's slug, or empty.</param>
/// <param name="Spells">Its stretches, in order.</param>
/// <param name="SnoozedUntil">When its snooze ends; null: it has none.</param>
public sealed record TicketLife(
    int Number, string Station, Rule Rule, string Part, IReadOnlyList<TicketSpell> Spells, DateTimeOffset? SnoozedUntil = null)
{
    /// <summary>Reads a ticket's events.</summary>
    /// <param name="station">The station's code.</param>
    /// <param name="ticket">The ticket.</param>
    /// <param name="snoozedUntil">When its snooze ends; null: it has none.</param>
    public static TicketLife Of(string station, TicketRecord ticket, DateTimeOffset? snoozedUntil = null)
    {
        ArgumentNullException.ThrowIfNull(ticket);
        List<TicketSpell> spells = [];
        foreach (TicketHappening happening in TicketHistory.InOrder(ticket))
        {
            TicketSpell? open = spells is [.., { Closed: null } last] ? last : null;
            switch (happening.Kind)
            {
                case TicketEventKind.Raised or TicketEventKind.Reopened when open is null:
                    spells.Add(new TicketSpell(happening.At, null, null, null));
                    break;
                case TicketEventKind.Taken when open is { Taken: null }:
                    spells[^1] = open with { Taken = happening.At };
                    break;
                case TicketEventKind.Closed when open is not null:
                    spells[^1] = open with { Closed = happening.At };
                    break;
            }
        }

        if (spells is [.., { Closed: not null } done])
        {
            spells[^1] = done with { Outcome = ticket.Outcome };
        }

        return new TicketLife(ticket.Number, station, ticket.Rule, ticket.Part, spells, snoozedUntil);
    }
}
