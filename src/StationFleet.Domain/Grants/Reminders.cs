namespace StationFleet.Domain.Grants;

/// <summary>A report that somebody has yet to hand in.</summary>
/// <param name="Award">The award's id.</param>
/// <param name="Number">The award's number.</param>
/// <param name="What">Which report: «Report for April to June 2026».</param>
/// <param name="PeriodEnd">The last day that it tells of.</param>
/// <param name="IsFinal">It is the final one.</param>
/// <param name="Due">When it is due: by the funder or pass-through where they named a day, otherwise by the rules.</param>
/// <param name="HandedIn">When it was handed in; null while it is not.</param>
public sealed record DueDate(
    AwardId Award, string Number, string What, DateOnly PeriodEnd, bool IsFinal, DateOnly Due, DateOnly? HandedIn = null);

/// <summary>A reminder that is to be sent now.</summary>
/// <param name="Report">Of what.</param>
/// <param name="DaysBefore">Which of the reminders: 30, 14 or 3.</param>
/// <param name="DaysLeft">Days until it is due.</param>
public sealed record Reminder(DueDate Report, int DaysBefore, int DaysLeft);

/// <summary>Decides what is to be reminded of today.</summary>
public static class Reminders
{
    /// <summary>Days before the due day on which a reminder goes out.</summary>
    public static IReadOnlyList<int> DaysBefore { get; } = [30, 14, 3];

    /// <summary>What is to be reminded of today and was not yet.</summary>
    /// <param name="reports">The reports of all awards.</param>
    /// <param name="today">The local day of the fleet.</param>
    /// <param name="sent">The smallest of <see cref="DaysBefore"/> sent for a report already; null when none was.</param>
    /// <returns>
    /// At most one for a report: after days without a server the newest one goes out, and the missed ones never do. What is
    /// overdue is not reminded of again; pages go on to show it.
    /// </returns>
    public static IReadOnlyList<Reminder> Today(IEnumerable<DueDate> reports, DateOnly today, Func<DueDate, int?> sent)
    {
        ArgumentNullException.ThrowIfNull(reports);
        ArgumentNullException.ThrowIfNull(sent);
        List<Reminder> reminders = [];
        foreach (DueDate report in reports.Where(report => report.HandedIn is null && report.Due >= today))
        {
            int left = report.Due.DayNumber - today.DayNumber;
            int newest = DaysBefore.Where(days => left <= days).DefaultIfEmpty(0).Min();
            if (newest > 0 && !(sent(report) <= newest))
            {
                reminders.Add(new Reminder(report, newest, left));
            }
        }

        return reminders;
    }
}
