using StationFleet.Domain.Grants;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Tests.Grants;

public sealed class AwardReportingTests
{
    private static readonly AwardTerms Terms = new() { Name = "test" };

    [Fact]
    [Source("2 CFR 200.329(c)(1) and 200.344(b): 30 days after a quarter, 120 after the end")]
    public void Quarterly_reports_end_with_the_calendar_s_quarters_and_the_last_one_is_final() =>
        AwardReporting.Reports(Award(ReportRhythm.Quarterly)).Select(report => (report.PeriodStart, report.PeriodEnd, report.IsFinal, report.Due)).Should().Equal(
            (D(2026, 2, 15), D(2026, 3, 31), false, D(2026, 4, 30)),
            (D(2026, 4, 1), D(2026, 6, 30), false, D(2026, 7, 30)),
            (D(2026, 7, 1), D(2026, 9, 30), false, D(2026, 10, 30)),
            (D(2026, 2, 15), D(2026, 12, 31), true, D(2027, 4, 30)));

    [Fact]
    [Source("2 CFR 200.329(c)(1): 30 days after half a year, 90 after a year; 200.344(b): 90 after the end for a subrecipient")]
    public void Other_rhythms_have_their_own_days()
    {
        AwardReporting.Reports(Award(ReportRhythm.HalfYearly)).Select(report => report.Due).Should().Equal(D(2026, 7, 30), D(2027, 4, 30));
        AwardPeriod twoYears = Award(ReportRhythm.Yearly) with { Ends = D(2027, 12, 31), IsSubrecipient = true };
        AwardReporting.Reports(twoYears).Select(report => report.Due).Should().Equal(D(2027, 3, 31), D(2028, 3, 30));
        AwardReporting.Reports(Award(ReportRhythm.FinalOnly)).Should().ContainSingle().Which.IsFinal.Should().BeTrue();
    }

    [Theory]
    [InlineData(31, null, null)]
    [InlineData(30, null, 30)]
    [InlineData(29, 30, null)]
    [InlineData(14, 30, 14)]
    [InlineData(13, 14, null)]
    [InlineData(5, 30, 14)]
    [InlineData(3, 14, 3)]
    [InlineData(0, null, 3)]
    [InlineData(-1, null, null)]
    public void A_reminder_goes_out_30_14_and_3_days_before_and_a_missed_one_is_made_up_once(int daysLeft, int? sent, int? expected)
    {
        DueDate report = new(new AwardId(1), "JBWD-2026-02", "Final report", D(2026, 6, 30), true, D(2026, 7, 30));

        Reminders.Today([report], report.Due.AddDays(-daysLeft), _ => sent).Select(reminder => (int?)reminder.DaysBefore).SingleOrDefault().Should().Be(expected);
        Reminders.Today([report with { HandedIn = D(2026, 7, 1) }], report.Due.AddDays(-daysLeft), _ => sent).Should().BeEmpty("it is handed in");
    }

    [Fact]
    public void Words_say_the_period_and_how_long_is_left()
    {
        AwardReporting.Reports(Award(ReportRhythm.Quarterly)).Select(GrantWords.ReportName).Should().Equal(
            "Report for February to March 2026", "Report for April to June 2026", "Report for July to September 2026", "Final report");
        GrantWords.Due(D(2026, 7, 30), D(2026, 7, 8)).Should().Be("is due on 30 Jul 2026, in 22 days");
        GrantWords.Due(D(2026, 7, 30), D(2026, 8, 2)).Should().Be("was due on 30 Jul 2026, three days ago");
    }

    [Fact]
    public void A_reminder_in_words_names_report_award_day_and_page()
    {
        DueDate report = new(new AwardId(1), "JBWD-2026-02", "Report for April to June 2026", D(2026, 6, 30), false, D(2026, 7, 30));

        MailText mail = ReminderMail.Write(new Reminder(report, 30, 22), D(2026, 7, 8), "https://fleet.example/awards/1", new MailVoice("Juniper <Basin>", IsInvented: true, ReadsReplies: false));

        mail.Subject.Should().Be("JBWD-2026-02: Report for April to June 2026 is due on 30 Jul 2026, in 22 days");
        mail.Text.Should().Contain("https://fleet.example/awards/1").And.Contain("Invented data").And.Contain("prevail");
        mail.Html.Should().Contain("Juniper &lt;Basin&gt;").And.NotContain("<Basin>");
    }

    private static DateOnly D(int year, int month, int day) => new(year, month, day);

    private static AwardPeriod Award(ReportRhythm rhythm) => new(D(2026, 2, 15), D(2026, 12, 31), rhythm, IsSubrecipient: false, Terms);
}

public sealed class TimeBookTests
{
    private static readonly DateOnly Day = new(2026, 7, 7);

    [Fact]
    public void The_same_minutes_are_not_charged_to_two_awards() =>
        TimeBook.Fault(At(9, 60, "B"), [At(8, 90, "A")]).Should().Be(
            "08:00 to 09:30 of that day is booked already on A: the same minutes cannot be charged twice.");

    [Fact]
    public void Minutes_that_only_touch_are_not_the_same() => TimeBook.Fault(At(10, 60, "B"), [At(8, 120, "A"), At(11, 30, null)]).Should().BeNull();

    [Fact]
    public void A_day_has_24_hours()
    {
        TimeBook.Fault(At(0, 1440, "A"), []).Should().BeNull();
        TimeBook.Fault(At(23, 61, "A"), []).Should().Be("It ends after midnight: book the rest on the next day.");
        TimeBook.Fault(At(12, 720, "A"), [At(0, 1440, "A")]).Should().Be("With this field crew would have worked 36 hours on one day.");
        TimeBook.Fault(At(12, 0, "A"), []).Should().Be("Write how long it took.");
    }

    [Fact]
    public void Time_is_worth_its_rate_to_the_nearest_hundredth()
    {
        TimeBook.Worth(50, Money.Of(29.95m)).Should().Be(Money.Of(24.96m));
        TimeBook.Worth(-50, Money.Of(29.95m)).Should().Be(Money.Of(-24.96m), "a reversal takes back exactly what was booked");
    }

    private static TimeSlice At(int hour, int minutes, string? award) => new("field crew", Day, hour * 60, minutes, award);
}
