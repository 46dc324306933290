using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>Changes the limits of the watch at one station and keeps who did it, when and why.</summary>
public sealed class SaveRules(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    public sealed class Command
    {
        public StationId Station { get; init; }

        /// <summary>False alarms of Idle tool, per tool and season.</summary>
        public string IdleFalseAlarms { get; set; } = "";

        /// <summary>Expected use sessions without one, as is the next.</summary>
        public string UnusedSoon { get; set; } = "";

        public string UnusedTicket { get; set; } = "";

        public string ShortestUseSeconds { get; set; } = "";

        public string MovedMetres { get; set; } = "";

        /// <summary>Days ahead.</summary>
        public string TankSoonDays { get; set; } = "";

        public string TankResponseHours { get; set; } = "";

        /// <summary>In percent, as are the other shares.</summary>
        public string TankRaise { get; set; } = "";

        public string ChargeSoon { get; set; } = "";

        public string ChargeRaise { get; set; } = "";

        /// <summary>Hours until somebody can do something about a low battery.</summary>
        public string ChargeResponse { get; set; } = "";

        /// <summary>Days before a planned sample must be taken.</summary>
        public string SampleSoonDays { get; set; } = "";

        /// <summary>Hours until somebody can be there to sample.</summary>
        public string SampleResponseHours { get; set; } = "";

        /// <summary>In percent of what the panel used to give.</summary>
        public string WeakPanel { get; set; } = "";

        /// <summary>In percent more than usual at night.</summary>
        public string ExtraLoad { get; set; } = "";

        public string SilentAfterHours { get; set; } = "";

        public string Reason { get; set; } = "";

        public static Command Of(StationId station, RuleSettings settings) => new()
        {
            Station = station,
            IdleFalseAlarms = RuleTexts.Number(settings.IdleFalseAlarms),
            UnusedSoon = RuleTexts.Number(settings.UnusedSoonSessions),
            UnusedTicket = RuleTexts.Number(settings.UnusedTicketSessions),
            ShortestUseSeconds = RuleTexts.Number(settings.ShortestUseSeconds),
            MovedMetres = RuleTexts.Number(settings.MovedMetres),
            TankSoonDays = RuleTexts.Number(settings.TankSoonDays),
            TankResponseHours = RuleTexts.Number(settings.TankResponseHours),
            TankRaise = RuleTexts.Percent(settings.TankRaiseShare),
            ChargeSoon = RuleTexts.Percent(settings.ChargeSoonShare),
            ChargeRaise = RuleTexts.Percent(settings.ChargeRaiseShare),
            ChargeResponse = RuleTexts.Number(settings.ChargeResponseHours),
            SampleSoonDays = RuleTexts.Number(settings.SampleSoonDays),
            SampleResponseHours = RuleTexts.Number(settings.SampleResponseHours),
            WeakPanel = RuleTexts.Percent(settings.WeakPanelShare),
            ExtraLoad = RuleTexts.Percent(settings.ExtraLoadShare),
            SilentAfterHours = RuleTexts.Number(settings.SilentAfterHours),
        };
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        public sealed record Saved : Outcome;

        public sealed record NothingChanged : Outcome;

        public sealed record Refused(WrongFields Wrong) : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        RuleSettings settings = Read(command, typed);
        string reason = typed.Text(nameof(Command.Reason), command.Reason, 500, "Write why, for whoever wonders later.");
        return typed.Wrong.Count > 0
            ? new Outcome.Refused(typed.Wrong)
            : await databases.WriteAsync(db => SaveAsync(db, viewer, command.Station, settings, reason, cancel), cancel);
    }

    /// <summary>The typed limits; what cannot be taken is noted.</summary>
    internal static RuleSettings Read(Command command, Typed typed)
    {
        double Share(string field, string value) => typed.Number(field, value, 1, 100, "%") / 100;

        RuleSettings settings = new()
        {
            IdleFalseAlarms = typed.Number(nameof(Command.IdleFalseAlarms), command.IdleFalseAlarms, 0.01, 2, "a season"),
            UnusedSoonSessions = typed.Number(nameof(Command.UnusedSoon), command.UnusedSoon, 3, 1000, "sessions"),
            UnusedTicketSessions = typed.Number(nameof(Command.UnusedTicket), command.UnusedTicket, 3, 1000, "sessions"),
            ShortestUseSeconds = typed.Number(nameof(Command.ShortestUseSeconds), command.ShortestUseSeconds, 0.1, 600, "seconds"),
            MovedMetres = typed.Number(nameof(Command.MovedMetres), command.MovedMetres, 50, 50_000, "metres"),
            TankSoonDays = typed.Number(nameof(Command.TankSoonDays), command.TankSoonDays, 0.5, 30, "days"),
            TankResponseHours = typed.Number(nameof(Command.TankResponseHours), command.TankResponseHours, 1, 240, "hours"),
            TankRaiseShare = Share(nameof(Command.TankRaise), command.TankRaise),
            ChargeSoonShare = Share(nameof(Command.ChargeSoon), command.ChargeSoon),
            ChargeRaiseShare = Share(nameof(Command.ChargeRaise), command.ChargeRaise),
            ChargeResponseHours = typed.Number(nameof(Command.ChargeResponse), command.ChargeResponse, 1, 168, "hours"),
            SampleSoonDays = typed.Number(nameof(Command.SampleSoonDays), command.SampleSoonDays, 0.5, 60, "days"),
            SampleResponseHours = typed.Number(nameof(Command.SampleResponseHours), command.SampleResponseHours, 1, 336, "hours"),
            WeakPanelShare = typed.Number(nameof(Command.WeakPanel), command.WeakPanel, 30, 95, "%") / 100,
            ExtraLoadShare = typed.Number(nameof(Command.ExtraLoad), command.ExtraLoad, 5, 500, "%") / 100,
            SilentAfterHours = typed.Number(nameof(Command.SilentAfterHours), command.SilentAfterHours, 0.5, 168, "hours"),
        };
        if (settings.UnusedSoonSessions >= settings.UnusedTicketSessions)
        {
            typed.Wrong.Note(nameof(Command.UnusedSoon), "A station must be due soon before it is a ticket: write fewer sessions than for the ticket.");
        }

        if (24 * settings.TankSoonDays <= settings.TankResponseHours)
        {
            typed.Wrong.Note(nameof(Command.TankSoonDays), "A tank must be due soon before it is a ticket: write more than the hours that somebody needs to get there.");
        }

        if (24 * settings.SampleSoonDays <= settings.SampleResponseHours)
        {
            typed.Wrong.Note(nameof(Command.SampleSoonDays), "A sample must be due soon before it is a ticket: write more than the hours that somebody needs to get there.");
        }

        if (settings.ChargeSoonShare <= settings.ChargeRaiseShare)
        {
            typed.Wrong.Note(nameof(Command.ChargeSoon), "A battery must be due soon before it is a ticket: write more than the ticket's share.");
        }

        return settings;
    }

    private async Task<Outcome> SaveAsync(
        FleetDbContext db, Viewer viewer, StationId station, RuleSettings settings, string reason, CancellationToken cancel)
    {
        if (!await db.Stations.VisibleTo(viewer).AnyAsync(row => row.Id == station, cancel))
        {
            return new Outcome.NotAllowed();
        }

        StationRules? rules = await db.StationRules.SingleOrDefaultAsync(row => row.StationId == station, cancel);
        if ((rules?.Settings ?? RuleSettings.Default) == settings)
        {
            return new Outcome.NothingChanged();
        }

        if (rules is null)
        {
            db.StationRules.Add(new StationRules { StationId = station, Settings = settings });
        }
        else
        {
            rules.Settings = settings;
        }

        db.RuleChanges.Add(new RuleChange
        {
            StationId = station,
            At = clock.GetUtcNow(),
            Who = viewer.Name,
            Reason = reason,
            Settings = JsonSerializer.Serialize(settings),
        });
        return new Outcome.Saved();
    }
}
