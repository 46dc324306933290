using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Grants;

/// <summary>Reads when the awards' reports are due: by the terms, or on the day that the funder or pass-through named.</summary>
public static class DueDateReader
{
    /// <summary>Every report of every award, also those handed in, by due day.</summary>
    public static async Task<IReadOnlyList<DueDate>> ReadAsync(FleetDbContext db, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(db);
        var awards = await db.Awards.AsNoTracking().Join(db.AwardTerms, award => award.TermsId, set => set.Id, (award, set) => new { Award = award, set.Terms })
            .ToListAsync(cancel);
        Dictionary<(AwardId, DateOnly, bool), AwardReport> known = (await db.AwardReports.AsNoTracking().ToListAsync(cancel))
            .ToDictionary(report => (report.AwardId, report.PeriodEnd, report.IsFinal));
        return
        [
            .. awards.SelectMany(row => AwardReporting.Reports(new AwardPeriod(row.Award.Starts, row.Award.Ends, row.Award.Rhythm, row.Award.IsSubrecipient, row.Terms))
                .Select(report =>
                {
                    AwardReport? own = known.GetValueOrDefault((row.Award.Id, report.PeriodEnd, report.IsFinal));
                    return new DueDate(
                        row.Award.Id, row.Award.Number, GrantWords.ReportName(report), report.PeriodEnd, report.IsFinal,
                        own?.NamedDue ?? report.Due, own?.HandedIn);
                })).OrderBy(due => due.Due).ThenBy(due => due.Number, StringComparer.Ordinal),
        ];
    }

    /// <summary>What is known of a report; made when nothing is yet.</summary>
    public static async Task<AwardReport> KnownAsync(FleetDbContext db, AwardId award, DateOnly periodEnd, bool isFinal, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(db);
        AwardReport? known = await db.AwardReports.SingleOrDefaultAsync(
            report => report.AwardId == award && report.PeriodEnd == periodEnd && report.IsFinal == isFinal, cancel);
        if (known is null)
        {
            known = new AwardReport { AwardId = award, PeriodEnd = periodEnd, IsFinal = isFinal };
            db.AwardReports.Add(known);
        }

        return known;
    }
}
