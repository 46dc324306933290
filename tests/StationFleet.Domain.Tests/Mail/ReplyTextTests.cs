using StationFleet.Domain.Mail;

namespace StationFleet.Domain.Tests.Mail;

public sealed class ReplyTextTests
{
    [Theory]
    [Source("RFC 3676 §4.3 (signatures) and §4.5 (quoted lines); how mail programs introduce a quotation: common practice, no source")]
    [InlineData("taken\n\nOn Mon, 1 Jun 2026 at 06:30, Fleet watch <fleet@x.example> wrote:\n> COP-1\n> Pump out", "taken")]
    [InlineData("taken\n\nOn Mon, 1 Jun 2026 at 06:30, Fleet watch\n<fleet@x.example> wrote:\n\n> COP-1", "taken")]
    [InlineData("taken\r\n\r\n-----Original Message-----\r\nFrom: Fleet watch\r\nCOP-1", "taken")]
    [InlineData("taken\n\n________________________________\nFrom: Fleet watch\nSent: Monday", "taken")]
    [InlineData("I go at ten:\nfirst COP-1\n-- \nField crew\n555 0100", "I go at ten:\nfirst COP-1")]
    [InlineData("> The tank holds 46 gal\nNo, it is empty.\n> Ticket T-1\nYes.", "No, it is empty.\nYes.")]
    [InlineData("> COP-1\n> Pump out", "")]
    [InlineData("  \n\n", "")]
    public void Own_keeps_what_the_person_wrote(string text, string own) => ReplyText.Own(text).Should().Be(own);

    [Theory]
    [InlineData("taken", true, "", "")]
    [InlineData("Taken.", true, "", "")]
    [InlineData("TAKEN!\nI bring a hose.", true, "", "I bring a hose.")]
    [InlineData("Taken, I go at ten", true, "", "I go at ten")]
    [InlineData("taken T-5 and 7", true, "5 7", "")]
    [InlineData("taken #5, T7: the rest is for others", true, "5 7", "the rest is for others")]
    [InlineData("Taken care of it on Friday", false, "", "Taken care of it on Friday")]
    [InlineData("I have taken it", false, "", "I have taken it")]
    [InlineData("closed", false, "", "closed")]
    public void Read_takes_only_by_its_first_word(string own, bool isTaking, string tickets, string note)
    {
        ReplyText.Wish wish = ReplyText.Read(own);

        wish.IsTaking.Should().Be(isTaking);
        string.Join(' ', wish.Tickets).Should().Be(tickets);
        wish.Note.Should().Be(note);
    }

    [Fact]
    public void No_text_makes_reading_slow_or_fail()
    {
        Random random = new(20260708);
        string[] pieces = ["taken", " ", "T-", "99999999", "1", ",", "#", "\n", "> ", "On ", "wrote:", "--", "-- \n", "and", "__________", "é", "\0", ":"];
        long started = TimeProvider.System.GetTimestamp();
        for (int i = 0; i < 300; i++)
        {
            string text = string.Concat(Enumerable.Range(0, random.Next(1, 2000)).Select(_ => pieces[random.Next(pieces.Length)]));
            ReplyText.Read(ReplyText.Own(text)).Note.Length.Should().BeLessThanOrEqualTo(ReplyText.LongestNote);
        }

        TimeProvider.System.GetElapsedTime(started).Should().BeLessThan(TimeSpan.FromSeconds(20));
    }
}
