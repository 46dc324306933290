using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Service;

public sealed class TicketMailTests
{
    private static readonly DateTimeOffset Now = new(2026, 7, 8, 13, 5, 0, TimeSpan.Zero);
    private static readonly Reader Reader = new(UnitSystem.UsCustomary, TimeZoneInfo.FindSystemTimeZoneById("America/Boise"), Now);

    private static readonly TicketMailInput Full = new(
        121, "COP-1", "Dam Road access, Copperline Reservoir", Rule.TankFilling,
        new TankFillingEvidence(46.0 / 55, 55 * Units.LitresPerUsGallon, null),
        Now, IsReopened: false, "http://localhost:5080/tickets/121", "Juniper Basin Watershed District", IsInvented: false);

    [Fact]
    public void The_mail_says_what_where_why_the_cautions_and_the_steps()
    {
        MailText mail = TicketMail.Write(Full, Reader);

        mail.Subject.Should().Be("COP-1: Pump out the tank (T-121)");
        mail.Text.Should().StartWith(
            """
            COP-1 · Dam Road access, Copperline Reservoir
            Pump out the tank

            The tank holds 46 of 55 gal (84 %). Its water weighs about 384 lb: pump it out, do not lift.
            Ticket T-121, raised Wednesday 07:05.

            Before you start:
            - Pump the tank out; never lift or tip it. A part-full tank surges.
            """);
        mail.Text.Should().Contain("\nDo:\n1. Take the tank sample first, if one is due.\n")
            .And.EndWith("\nTake or close the ticket: http://localhost:5080/tickets/121\n\nJuniper Basin Watershed District\n");
        mail.Html.Should().Contain("<h1 style=\"margin:4px 0 8px;font-size:24px;line-height:1.25\">Pump out the tank</h1>")
            .And.Contain("href=\"http://localhost:5080/tickets/121\"")
            .And.Contain("<li>Pump out, rinse, close the valve.</li>");
    }

    [Fact]
    public void A_reopened_ticket_says_that_the_problem_was_still_there()
    {
        MailText mail = TicketMail.Write(Full with { IsReopened = true }, Reader);

        mail.Subject.Should().Be("COP-1: Pump out the tank (T-121, reopened)");
        mail.Text.Should().Contain("The problem was still there a day after the ticket was closed.\nTicket T-121, reopened Wednesday 07:05.");
        mail.Html.Should().Contain("The problem was still there a day after the ticket was closed.");
    }

    [Fact]
    public void Invented_data_are_called_so_in_both_parts()
    {
        MailText mail = TicketMail.Write(Full with { IsInvented = true }, Reader);

        mail.Text.Should().StartWith("Invented data");
        mail.Html.Should().Contain("Invented data");
        TicketMail.Write(Full, Reader).Html.Should().NotContain("Invented data");
    }

    [Fact]
    public void Names_that_people_typed_cannot_become_markup()
    {
        TicketMailInput typed = Full with
        {
            Place = "<script>alert(1)</script> & Sons",
            Rule = Rule.IdleTool,
            Evidence = new IdleToolEvidence("<b>brush\"", Now, Now, 20, 9000, null),
            TicketUrl = "http://localhost/tickets/1?a=\"><img>",
        };

        string html = TicketMail.Write(typed, Reader).Html;

        html.Should().NotContainAny("<script", "<b>brush", "<img").And.Contain("&lt;script&gt;alert(1)&lt;/script&gt; &amp; Sons");
    }

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
