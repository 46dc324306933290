using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Service;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Cli;

/// <summary>The result of a trial as a file; docs/trial-file.schema.json describes it.</summary>
internal sealed record TrialFile(
    string Fleet,
    string? Notice,
    DateTimeOffset? From,
    DateTimeOffset? To,
    double EveryMinutes,
    IReadOnlyList<TrialFile.Station> Stations,
    IReadOnlyList<string> LeftOut,
    IReadOnlyList<TrialFile.Ticket> Tickets,
    IReadOnlyList<TrialFile.Sighting> Noticed)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    internal sealed record Station(
        string Code,
        DateTimeOffset From,
        DateTimeOffset To,
        int Reports,
        int Measurements,
        int SetAside,
        int BeforeCreated,
        IReadOnlyList<string> UnknownNames,
        int EventsWithoutTicket);

    internal sealed record Ticket(
        int Number,
        string Station,
        Rule Rule,
        string RuleName,
        string Part,
        string? Tool,
        DateTimeOffset Raised,
        DateTimeOffset? Cleared,
        DateTimeOffset? Taken,
        DateTimeOffset? Closed,
        TicketOutcome? Outcome,
        TicketState State,
        int TimesReopened,
        string Title,
        string Sentence,
        string LatestSentence,
        Evidence Evidence,
        IReadOnlyList<Mail> Mails,
        IReadOnlyList<Happening> Events);

    internal sealed record Sighting(string Station, Rule Rule, string RuleName, string Part, DateTimeOffset Since, string Sentence);

    internal sealed record Mail(DateTimeOffset At, string To, string Subject);

    internal sealed record Happening(DateTimeOffset At, TicketEventKind Kind);

    public string ToJson() => JsonSerializer.Serialize(this, Options);

    /// <summary>A ticket with the mails that would have told of it.</summary>
    public static Ticket Of(PastTicket ticket, int number, FleetFile fleet, DateTimeOffset end)
    {
        FleetStation station = fleet.Stations.First(one => one.Code == ticket.Station);
        TimeZoneInfo zone = ZoneOf(fleet, station, ticket.Raised);
        List<Mail> mails = [];
        foreach (PastTicketEvent told in ticket.Events.Where(one => one.Kind is TicketEventKind.Raised or TicketEventKind.Reopened))
        {
            string subject = TicketMail.Subject(number, ticket.Station, ticket.RaisedWith, isReopened: told.Kind == TicketEventKind.Reopened);
            mails.AddRange(Recipients(fleet).Select(person => new Mail(told.At, person.Email, subject)));
        }

        return new Ticket(
            number,
            ticket.Station,
            ticket.Rule,
            ProblemSentences.Name(ticket.Rule),
            ticket.Part,
            station.Tools.LastOrDefault(tool => tool.Slug == ticket.Part)?.Name,
            ticket.Raised,
            ticket.ProblemCleared,
            ticket.Taken,
            ticket.Closed,
            ticket.Outcome,
            ticket.State,
            ticket.TimesReopened,
            ProblemSentences.Title(ticket.RaisedWith),
            ProblemSentences.Sentence(ticket.RaisedWith, Urgency.NeedsVisit, new Reader(fleet.Units, zone, ticket.Raised)),
            ProblemSentences.Sentence(ticket.Evidence, Urgency.NeedsVisit, new Reader(fleet.Units, zone, ticket.ProblemCleared ?? ticket.Closed ?? end)),
            ticket.RaisedWith,
            mails,
            [.. ticket.Events.Select(happened => new Happening(happened.At, happened.Kind))]);
    }

    /// <summary>A problem that was worth knowing, and no ticket at first.</summary>
    public static Sighting Of(Problem problem, string code, FleetFile fleet)
    {
        FleetStation station = fleet.Stations.First(one => one.Code == code);
        Reader reader = new(fleet.Units, ZoneOf(fleet, station, problem.Since), problem.Since);
        return new Sighting(
            code, problem.Rule, ProblemSentences.Name(problem.Rule), problem.Part, problem.Since, ProblemSentences.Sentence(problem.Evidence, problem.Urgency, reader));
    }

    // As live: each technician and biologist.
    // The file holds no roster: as in the server, the technicians are told then, or the biologists where there are none.
    private static IEnumerable<FleetPerson> Recipients(FleetFile fleet) =>
        fleet.People.Any(person => person.Role == "Technician")
            ? fleet.People.Where(person => person.Role == "Technician")
            : fleet.People.Where(person => person.Role == "Biologist");

    private static TimeZoneInfo ZoneOf(FleetFile fleet, FleetStation station, DateTimeOffset at)
    {
        FleetPlacement? placement = station.Placements.LastOrDefault(placement => placement.From <= at);
        string? zone = fleet.Accesses.FirstOrDefault(access => access.Slug == placement?.Access)?.TimeZone;
        return zone is null ? fleet.Zone : TimeZoneInfo.FindSystemTimeZoneById(zone);
    }
}
