namespace StationFleet.Domain.Grants;

/// <summary>How often an award wants a report while it runs.</summary>
public enum ReportRhythm
{
    /// <summary>Only the final one.</summary>
    FinalOnly,

    /// <summary>After each quarter of the calendar.</summary>
    Quarterly,

    /// <summary>After each half of the calendar year.</summary>
    HalfYearly,

    /// <summary>After each calendar year.</summary>
    Yearly,
}

/// <summary>What an award asks for, as far as its due dates go by it.</summary>
/// <param name="Starts">The first day of the period of performance.</param>
/// <param name="Ends">Its last day.</param>
/// <param name="Rhythm">How often it wants a report.</param>
/// <param name="IsSubrecipient">The money comes through another recipient, to whom the reports go.</param>
/// <param name="Terms">The funder's rules.</param>
public sealed record AwardPeriod(DateOnly Starts, DateOnly Ends, ReportRhythm Rhythm, bool IsSubrecipient, AwardTerms Terms);

/// <summary>One report that an award wants.</summary>
/// <param name="PeriodStart">The first day that it tells of.</param>
/// <param name="PeriodEnd">The last day that it tells of.</param>
/// <param name="IsFinal">It is the last one, over the whole award.</param>
/// <param name="Due">When it is due by the funder's rules.</param>
public sealed record AwardReportDue(DateOnly PeriodStart, DateOnly PeriodEnd, bool IsFinal, DateOnly Due);

/// <summary>Reckons which reports an award wants, and when.</summary>
public static class AwardReporting
{
    /// <summary>Every report of an award, by the end of its period; the final one is the last.</summary>
    /// <param name="award">The award.</param>
    /// <remarks>
    /// Interim periods end with the calendar's quarters, halves or years; what is left at the end belongs to the final report,
    /// which ends with the award. Source: 2 CFR 200.329(c) and 200.344(b); the days are data of the terms.
    /// </remarks>
    public static IReadOnlyList<AwardReportDue> Reports(AwardPeriod award)
    {
        ArgumentNullException.ThrowIfNull(award);
        List<AwardReportDue> reports = [];
        (int months, int days) = award.Rhythm switch
        {
            ReportRhythm.Quarterly => (3, award.Terms.QuarterDueDays),
            ReportRhythm.HalfYearly => (6, award.Terms.HalfYearDueDays),
            ReportRhythm.Yearly => (12, award.Terms.YearDueDays),
            _ => (0, 0),
        };
        if (months > 0)
        {
            DateOnly start = award.Starts;
            for (DateOnly end = EndOf(start, months); end < award.Ends; end = EndOf(start, months))
            {
                reports.Add(new AwardReportDue(start, end, IsFinal: false, end.AddDays(days)));
                start = end.AddDays(1);
            }
        }

        int final = award.IsSubrecipient ? award.Terms.FinalDueDaysSubrecipient : award.Terms.FinalDueDays;
        reports.Add(new AwardReportDue(award.Starts, award.Ends, IsFinal: true, award.Ends.AddDays(final)));
        return reports;
    }

    // The last day of the calendar's period of so many months that holds a day.
    private static DateOnly EndOf(DateOnly day, int months)
    {
        int endMonth = (((day.Month - 1) / months) + 1) * months;
        return new DateOnly(day.Year, endMonth, DateTime.DaysInMonth(day.Year, endMonth));
    }
}
