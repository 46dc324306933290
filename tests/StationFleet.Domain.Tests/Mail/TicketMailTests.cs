using StationFleet.Domain.Mail;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Mail;

public sealed class TicketMailTests
{
    private static readonly DateTimeOffset Now = new(2026, 7, 8, 13, 5, 0, TimeSpan.Zero);
    private static readonly MailVoice Voice = new("Juniper Basin Watershed District", IsInvented: false, ReadsReplies: true);

    private static readonly CalledTicket Full = new(
        121, "COP-1", "Dam Road access, Copperline Reservoir", Rule.TankFilling,
        new TankFillingEvidence(46.0 / 55, 55 * Units.LitresPerUsGallon, null),
        Now, CallReason.Raised, ToldBefore: null, "http://localhost:5080/tickets/121", TimeZoneInfo.FindSystemTimeZoneById("America/Boise"));

    [Fact]
    public void The_mail_says_what_where_why_the_cautions_and_the_steps()
    {
        MailText mail = Write(Full);

        mail.Subject.Should().Be("COP-1: Pump out the tank (T-121)");
        mail.Text.Should().StartWith(
            """
            COP-1 · Dam Road access, Copperline Reservoir
            Pump out the tank

            The tank holds 46 of 55 gal (84 %). Its water weighs about 384 lb: pump it out, do not lift.
            Ticket T-121, raised Wednesday 07:05.

            Take or close the ticket: http://localhost:5080/tickets/121
            Or answer this mail with the word taken: it is yours then. Anything else is kept as a note.

            Before you start:
            - Pump the tank out; never lift or tip it. A part-full tank surges.
            """);
        mail.Text.Should().Contain("\nDo:\n1. Take the tank sample first, if one is due.\n").And.EndWith("\nJuniper Basin Watershed District\n");
        mail.Html.Should().Contain("Pump out the tank</h1>")
            .And.Contain("href=\"http://localhost:5080/tickets/121\"")
            .And.Contain("<li>Pump out, rinse, close the valve.</li>")
            .And.NotContainAny("<img", "src=", "url(", "<script", "<link");
    }

    [Fact]
    public void Answers_are_only_spoken_of_where_they_are_read() =>
        Write(Full, Voice with { ReadsReplies = false }).Text.Should().NotContain("nswer this mail");

    [Fact]
    public void A_reopened_ticket_says_that_the_problem_was_still_there()
    {
        MailText mail = Write(Full with { Reason = CallReason.Reopened });

        mail.Text.Should().Contain("The problem was still there a day after the ticket was closed.\nTicket T-121, reopened Wednesday 07:05.");
        mail.Html.Should().Contain("The problem was still there a day after the ticket was closed.");
        TicketMail.Subject(121, "COP-1", Full.Evidence, isReopened: true).Should().Be("Re: COP-1: Pump out the tank (T-121)");
    }

    [Fact]
    public void A_ticket_that_nobody_took_says_who_was_told_first() =>
        Write(Full with { Reason = CallReason.NotTaken, ToldBefore = "Field Crew" }).Text.Should().Contain("Nobody has taken this ticket; Field Crew was told first.");

    [Fact]
    public void Several_problems_at_one_station_are_one_mail_with_each_caution_once()
    {
        CalledTicket second = Full with { Number = 122, Evidence = new TankFillingEvidence(0.9, 200, null), Url = "http://localhost:5080/tickets/122" };

        MailText mail = TicketMail.Write(TicketMail.Mails([second, Full]).Should().ContainSingle().Subject, Voice, UnitSystem.UsCustomary, Now);

        mail.Subject.Should().Be("COP-1: two problems, one stop (T-121, T-122)");
        mail.Text.Should().Contain("/tickets/121").And.Contain("/tickets/122").And.Contain("taken T-121 for some");
        mail.Text.Split("never lift or tip it").Should().HaveCount(2);
    }

    [Theory]
    [InlineData(5, 5)]
    [InlineData(6, 1)]
    public void More_than_five_tickets_are_one_mail(int tickets, int mails)
    {
        IReadOnlyList<IReadOnlyList<CalledTicket>> groups = TicketMail.Mails(
            [.. Enumerable.Range(1, tickets).Select(n => Full with { Number = n, Station = $"SOR-{n}" })]);

        groups.Should().HaveCount(mails);
        MailText mail = TicketMail.Write(groups[^1], Voice, UnitSystem.UsCustomary, Now);
        mail.Subject.Should().Be(tickets == 6 ? "Six tickets at six stations (T-1 to T-6)" : "SOR-5: Pump out the tank (T-5)");
    }

    [Fact]
    public void Invented_data_are_called_so_in_both_parts()
    {
        MailText mail = Write(Full, Voice with { IsInvented = true });

        mail.Text.Should().StartWith("Invented data");
        mail.Html.Should().Contain("Invented data");
        Write(Full).Html.Should().NotContain("Invented data");
    }

    [Fact]
    public void Names_that_people_typed_cannot_become_markup_or_headers()
    {
        MailText mail = Write(Full with
        {
            Station = "COP\r\nBcc: x",
            Place = "<script>alert(1)</script> & Sons",
            Rule = Rule.IdleTool,
            Evidence = new IdleToolEvidence("<b>brush\"", Now, Now, 20, 9000, null),
            Url = "http://localhost/tickets/1?a=\"><img>",
        });

        mail.Html.Should().NotContainAny("<script", "<b>brush", "<img").And.Contain("&lt;script&gt;alert(1)&lt;/script&gt; &amp; Sons");
        mail.Subject.Should().NotContainAny("\r", "\n");
    }

    [Fact]
    public void The_morning_mail_stops_at_five_tickets_and_names_the_rest()
    {
        DigestInput today = new(
            "Wednesday 8 July", "Seven stations need a visit.", [.. Enumerable.Range(1, 7).Select(n => ($"SOR-{n}", "Look at it.", (string?)null))],
            [("OTT-1", "The tank fills about Friday.")], "Field Crew", "https://fleet.example/", "https://fleet.example/stop");

        MailText mail = DigestMail.Morning(today, Voice);

        mail.Subject.Should().Be("Wednesday 8 July: seven tickets");
        mail.Text.Should().Contain("- SOR-5: Look at it.").And.NotContain("SOR-6").And.Contain("And two more on the page Today.").And.Contain("On duty: Field Crew.");
        mail.Html.Should().Contain("prefers-color-scheme:dark");
    }

    private static MailText Write(CalledTicket ticket, MailVoice? voice = null) => TicketMail.Write([ticket], voice ?? Voice, UnitSystem.UsCustomary, Now);

    [Theory]
    [InlineData(Rule.IdleTool)]
    [InlineData(Rule.TankFilling)]
    [InlineData(Rule.LowCharge)]
    [InlineData(Rule.NotReporting)]
    public void Every_rule_has_a_name_cautions_and_steps_that_never_call_the_work_safe(Rule rule)
    {
        ProblemSentences.Name(rule).Should().NotBeEmpty();
        Cautions.For(rule).Should().NotBeEmpty().And.NotContain(caution => caution.Contains("safe to", StringComparison.OrdinalIgnoreCase));
        Checklists.For(rule).Should().HaveCountGreaterThan(2);
    }
}
