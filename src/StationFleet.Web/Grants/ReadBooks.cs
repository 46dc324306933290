using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>The newest entries of time or cost, and what the form offers. Who keeps no books sees what is their own.</summary>
internal sealed class ReadBooks(
    IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options, IOptions<GrantOptions> grants)
{
    private const int Newest = 100;

    /// <param name="MayReverse">It stands, and the person may take it back.</param>
    internal sealed record Row(int Id, string When, string What, string Who, string Where, string Amount, bool IsReversal, bool MayReverse);

    internal sealed record View(
        string Sentence, IReadOnlyList<Row> Rows, IReadOnlyList<string> Stations, IReadOnlyList<string> Awards, bool KeepsBooks, string Today);

    public async Task<View> HandleAsync(Viewer viewer, bool isTime, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        Dictionary<StationId, string> codes = await db.Stations.VisibleTo(viewer).ToDictionaryAsync(station => station.Id, station => station.Code, cancel);
        Dictionary<AwardId, string> awards = await db.Awards.OrderBy(award => award.Number).ToDictionaryAsync(award => award.Id, award => award.Number, cancel);
        bool keeps = viewer.MayKeepBooks();
        IReadOnlyList<Row> rows = isTime ? await TimeAsync() : keeps ? await CostAsync() : [];
        return new View(
            await SentenceAsync(db, viewer, isTime, today, cancel),
            rows, [.. codes.Values.Order(StringComparer.Ordinal)], [.. awards.Values], keeps, today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));

        async Task<IReadOnlyList<Row>> TimeAsync()
        {
            List<TimeEntry> entries = await db.TimeEntries.Where(entry => keeps || entry.EnteredBy == viewer.Name)
                .OrderByDescending(entry => entry.Id).Take(Newest).ToListAsync(cancel);
            HashSet<int> reversed = [.. entries.Select(entry => entry.ReversesId).OfType<int>()];
            return
            [
                .. entries.Select(entry => new Row(
                    entry.Id,
                    $"{GrantWords.Day(entry.Day)}, {TimeOnly.MinValue.AddMinutes(entry.StartMinute):HH\\:mm}",
                    entry.Activity, entry.Person, Where(entry.StationId, entry.AwardId, entry.Kind),
                    $"{entry.Minutes.ToString("0;−0", CultureInfo.InvariantCulture)} min{(keeps && entry.RatePerHour.Cents > 0 ? $", {Say(entry.Worth)}" : "")}",
                    entry.ReversesId is not null,
                    entry.ReversesId is null && !reversed.Contains(entry.Id) && BookEntry.MayReverse(viewer, entry.EnteredBy))),
            ];
        }

        async Task<IReadOnlyList<Row>> CostAsync()
        {
            List<CostEntry> entries = await db.CostEntries.OrderByDescending(entry => entry.Id).Take(Newest).ToListAsync(cancel);
            HashSet<int> reversed = [.. entries.Select(entry => entry.ReversesId).OfType<int>()];
            return
            [
                .. entries.Select(entry => new Row(
                    entry.Id, GrantWords.Day(entry.Day), entry.What, entry.EnteredBy, Where(entry.StationId, entry.AwardId, entry.Kind), Say(entry.Amount),
                    entry.ReversesId is not null, entry.ReversesId is null && !reversed.Contains(entry.Id))),
            ];
        }

        string Where(StationId? station, AwardId? award, TimeKind kind) => string.Join(" · ", new[]
        {
            station is { } at ? codes.GetValueOrDefault(at, "another station") : "all stations",
            award is { } id ? awards[id] : "no award",
            Kind(kind),
        });
    }

    /// <summary>Who pays, in words.</summary>
    internal static string Kind(TimeKind kind) => kind switch
    {
        TimeKind.Paid => "paid",
        TimeKind.Match => "match",
        _ => "volunteer or given",
    };

    private async Task<string> SentenceAsync(FleetDbContext db, Viewer viewer, bool isTime, DateOnly today, CancellationToken cancel)
    {
        DateOnly first = new(today.Year, today.Month, 1);
        string month = today.ToString("MMMM", CultureInfo.InvariantCulture);
        if (isTime)
        {
            bool keeps = viewer.MayKeepBooks();
            int minutes = await db.TimeEntries.Where(entry => entry.Day >= first && (keeps || entry.EnteredBy == viewer.Name)).SumAsync(entry => entry.Minutes, cancel);
            return $"{NumberWords.Brief(minutes / 60.0)} hours are booked in {month}{(keeps ? "" : " by you")}.";
        }

        List<Money> amounts = await db.CostEntries.Where(entry => entry.Day >= first).Select(entry => entry.Amount).ToListAsync(cancel);
        return $"{Say(Money.Sum(amounts))} is booked in {month}.";
    }

    private string Say(Money money) => money.Say(grants.Value.CurrencySign);
}
