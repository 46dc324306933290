using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Service;

/// <summary>Work for a person, about one problem.</summary>
public sealed class Ticket
{
    public TicketId Id { get; init; }

    /// <summary>The number that people say: T-118.</summary>
    public int Number { get; init; }

    public StationId StationId { get; init; }

    /// <summary>Where the station stood when the ticket was raised; null in transit.</summary>
    public AccessId? AccessId { get; set; }

    public Rule Rule { get; init; }

    /// <summary>The part it is about: a tool's slug, or empty.</summary>
    public required string Part { get; init; }

    public TicketState State { get; set; }

    public DateTimeOffset Raised { get; init; }

    /// <summary>The newest <see cref="Evidence"/>, as JSON.</summary>
    public required string Evidence { get; set; }

    /// <summary>When the problem cleared by itself; null while it is on.</summary>
    public DateTimeOffset? ProblemCleared { get; set; }

    public string? TakenById { get; set; }

    public DateTimeOffset? TakenAt { get; set; }

    public DateTimeOffset? SnoozedUntil { get; set; }

    /// <summary>When our server learnt of the closing.</summary>
    public DateTimeOffset? Closed { get; set; }

    /// <summary>When the work was done, by the phone's clock.</summary>
    public DateTimeOffset? DoneAt { get; set; }

    public string? ClosedById { get; set; }

    public TicketOutcome? Outcome { get; set; }

    /// <summary>How often it came back after closing.</summary>
    public int TimesReopened { get; set; }

    /// <summary>Counts changes, so that two people acting at once do not overwrite each other.</summary>
    public int Version { get; set; }

    /// <summary>When the work of a closed ticket was done. A phone's clock may be wrong: not before the ticket, nor after the closing.</summary>
    /// <param name="raised">When the ticket was raised.</param>
    /// <param name="doneAt">When the work was done, by the phone's clock.</param>
    /// <param name="closed">When our server learnt of the closing.</param>
    public static DateTimeOffset DoneBetween(DateTimeOffset raised, DateTimeOffset? doneAt, DateTimeOffset? closed)
    {
        DateTimeOffset done = (doneAt < closed ? doneAt : closed) ?? raised;
        return done < raised ? raised : done;
    }
}

internal sealed class TicketConfiguration : IEntityTypeConfiguration<Ticket>
{
    public void Configure(EntityTypeBuilder<Ticket> builder)
    {
        builder.ToTable("tickets");
        builder.Property(ticket => ticket.Id).ValueGeneratedOnAdd();
        builder.Property(ticket => ticket.Version).IsConcurrencyToken();
        builder.HasOne<Station>().WithMany().HasForeignKey(ticket => ticket.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Access>().WithMany().HasForeignKey(ticket => ticket.AccessId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(ticket => ticket.Number).IsUnique();

        // One open ticket for one problem.
        builder.HasIndex(ticket => new { ticket.StationId, ticket.Rule, ticket.Part })
            .IsUnique().HasFilter("\"State\" <> 'Closed'").HasDatabaseName("IX_tickets_one_open");

        // Serves the lists of open tickets and a season's tickets.
        builder.HasIndex(ticket => new { ticket.StationId, ticket.Raised });
    }
}

/// <summary>One thing that happened to a ticket.</summary>
public sealed class TicketEvent
{
    public int Id { get; init; }

    public TicketId TicketId { get; init; }

    public DateTimeOffset At { get; init; }

    public TicketEventKind Kind { get; init; }

    /// <summary>The person's display name; null when the watch did it.</summary>
    public string? Who { get; init; }

    public string? Note { get; init; }

    /// <summary>The form's own key: the same form sent twice is one event.</summary>
    public string? IdempotencyKey { get; init; }
}

internal sealed class TicketEventConfiguration : IEntityTypeConfiguration<TicketEvent>
{
    public void Configure(EntityTypeBuilder<TicketEvent> builder)
    {
        builder.ToTable("ticket_events");
        builder.Property(happening => happening.Note).HasMaxLength(4000);
        builder.HasOne<Ticket>().WithMany().HasForeignKey(happening => happening.TicketId).OnDelete(DeleteBehavior.Restrict);

        // Serves a ticket's history in order.
        builder.HasIndex(happening => new { happening.TicketId, happening.At });
        builder.HasIndex(happening => happening.IdempotencyKey).IsUnique();
    }
}
