using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>The awards, which reports are due when, and how much match is booked.</summary>
public sealed class ReadAwards(
    IDbContextFactory<FleetDbContext> databases, ReadDueDates dueDates, FleetClock clock, IOptions<FleetOptions> options, IOptions<GrantOptions> grants)
{
    private const int DaysAhead = 120;

    public sealed record Row(int Id, string Number, string Title, string Funder, string Period, string Next, string Match, bool IsOver);

    public sealed record Due(int Award, string Number, string What, string Sentence, bool IsLate);

    public sealed record Terms(int Id, string Name);

    public sealed record View(string Sentence, IReadOnlyList<Due> Coming, IReadOnlyList<Row> Rows, IReadOnlyList<Terms> TermsSets, bool MayChange);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        IReadOnlyList<DueDate> open = await dueDates.HandleAsync(viewer, DateOnly.MaxValue, cancel);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Award> awards = await db.Awards.AsNoTracking().OrderByDescending(award => award.Starts).ThenBy(award => award.Number).ToListAsync(cancel);
        List<Row> rows = [];
        foreach (Award award in awards)
        {
            DueDate? next = open.FirstOrDefault(due => due.Award == award.Id);
            Money booked = await BookedMatch.OfAsync(db, award.Id, cancel);
            rows.Add(new Row(
                award.Id.Value, award.Number, award.Title, award.Funder, $"{GrantWords.Day(award.Starts)} to {GrantWords.Day(award.Ends)}",
                next is null ? "Every report is handed in" : $"{next.What} {GrantWords.Due(next.Due, today)}",
                $"{booked.Say(grants.Value.CurrencySign)} of {award.MatchRequired.Say(grants.Value.CurrencySign)}", award.Ends < today));
        }

        return new View(
            Sentence(awards.Count, open, today),
            [
                .. open.Where(due => due.Due <= today.AddDays(DaysAhead)).Select(due =>
                    new Due(due.Award.Value, due.Number, due.What, GrantWords.Due(due.Due, today), due.Due < today)),
            ],
            rows,
            [.. (await db.AwardTerms.AsNoTracking().OrderBy(set => set.Id).ToListAsync(cancel)).Select(set => new Terms(set.Id, set.Terms.Name))],
            viewer.MayKeepBooks());
    }

    private static string Sentence(int awards, IReadOnlyList<DueDate> open, DateOnly today) => (awards, open.Count(due => due.Due < today)) switch
    {
        (0, _) => "No award is on record yet.",
        (_, 0) when open.Count == 0 => "Every report is handed in.",
        (_, 0) => $"{open[0].What} of {open[0].Number} {GrantWords.Due(open[0].Due, today)}.",
        (_, 1) => $"One report is overdue: {open[0].What} of {open[0].Number}.",
        var (_, late) => $"{NumberWords.Capital(NumberWords.Count(late))} reports are overdue.",
    };
}

/// <summary>The match that is booked for an award: the recipient's and volunteers' time and costs, reversals taken off.</summary>
internal static class BookedMatch
{
    public static async Task<Money> OfAsync(FleetDbContext db, AwardId award, CancellationToken cancel)
    {
        List<TimeEntry> time = await db.TimeEntries.AsNoTracking().Where(entry => entry.AwardId == award && entry.Kind != TimeKind.Paid).ToListAsync(cancel);
        List<Money> costs = await db.CostEntries.AsNoTracking().Where(entry => entry.AwardId == award && entry.Kind != TimeKind.Paid)
            .Select(entry => entry.Amount).ToListAsync(cancel);
        return Money.Sum([.. time.Select(entry => entry.Worth), .. costs]);
    }
}
