using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Web.Service;

namespace StationFleet.Web.Watch;

/// <summary>What a trial found, in words.</summary>
/// <param name="Code">The station's code.</param>
/// <param name="Headline">The difference in a sentence.</param>
/// <param name="Tried">What was typed, and on which time it was tried.</param>
/// <param name="DueSoon">How often something was due soon.</param>
/// <param name="Rows">The tickets of both limits, by the time of raising.</param>
public sealed record TriedSeason(string Code, string Headline, string Tried, string DueSoon, IReadOnlyList<TriedSeason.Row> Rows)
{
    /// <param name="What">The rule and the tool.</param>
    /// <param name="Why">The sentence that would have been mailed.</param>
    /// <param name="Today">The ticket under today's limits; null when there is none.</param>
    /// <param name="New">The ticket under the new limits; null when there is none.</param>
    /// <param name="Which">How they differ.</param>
    /// <param name="Picture">What to draw of it.</param>
    public sealed record Row(string What, string Why, Side? Today, Side? New, string Which, TrialPicture.Query Picture);

    /// <param name="Raised">When it was raised.</param>
    /// <param name="Ended">How it ended.</param>
    public sealed record Side(string Raised, string Ended);
}

/// <summary>Puts a trial of one station into words.</summary>
internal sealed class TriedWords(StationSetupHistory history, RuleSettings limits, UnitSystem units, TriedSpan span)
{
    public TriedSeason Of(int year, StationTrial today, StationTrial others)
    {
        TrialComparison comparison = TrialComparison.Of(today.Tickets, others.Tickets);
        string begins = span.IsShortened ? $"Measurements are there only from {Time(span.From)} on; the trial begins then." : "";
        return new TriedSeason(
            history.Station.Code,
            TrialWords.Headline(comparison, span.IsSoFar),
            $"Tried on season {year}{(span.IsSoFar ? " so far" : "")}: {string.Join("; ", RuleTexts.Differences(history.Always.Rules, limits))}. {begins}".TrimEnd(),
            $"Without a ticket, something was due soon {Times(others.Noticed.Count)} with the new limits, {Times(today.Noticed.Count)} with today's.",
            [.. comparison.Pairs.Select(RowOf)]);
    }

    private TriedSeason.Row RowOf(TicketPair pair)
    {
        string rule = ProblemSentences.Name(pair.Rule);
        string? tool = history.Tools.LastOrDefault(tool => tool.Slug == pair.Part)?.Name ?? (pair.Part.Length > 0 ? pair.Part : null);
        TimeZoneInfo zone = ZoneAt(pair.Shown.Raised);
        return new TriedSeason.Row(
            tool is null ? rule : $"{rule}: {tool}",
            ProblemSentences.Sentence(pair.Shown.RaisedWith, Urgency.NeedsVisit, new Reader(units, zone, pair.Shown.Raised)),
            SideOf(pair.Today),
            SideOf(pair.New),
            TrialWords.Which(pair),
            new TrialPicture.Query(history.Station.Id, pair.Rule, pair.Part, pair.Today?.Raised, pair.New?.Raised, EndOf(pair.Shown), history.Always.Rules, limits));
    }

    private TriedSeason.Side? SideOf(PastTicket? ticket) => ticket is null ? null : new TriedSeason.Side(Time(ticket.Raised), ticket switch
    {
        { Closed: { } closed, Outcome: { } outcome and not TicketOutcome.ClearedByItself } => $"closed {Time(closed)}: {TicketWords.Of(outcome).TrimEnd('.').ToLowerInvariant()}",
        { ProblemCleared: { } cleared } => $"cleared {Time(cleared)}",
        { Closed: { } closed } => $"closed {Time(closed)}",
        _ => "still open at the end",
    } + (ticket.TimesReopened == 0 ? "" : $", reopened {Times(ticket.TimesReopened)}"));

    private DateTimeOffset EndOf(PastTicket ticket) => ticket.ProblemCleared ?? ticket.Closed ?? span.To;

    private TimeZoneInfo ZoneAt(DateTimeOffset at) => history.ZoneAt(at);

    private string Time(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, ZoneAt(at)).ToString("ddd d MMM, HH:mm", CultureInfo.InvariantCulture);

    private static string Times(int count) => count switch { 0 => "never", 1 => "once", 2 => "twice", _ => $"{NumberWords.Count(count)} times" };
}
