using System.Net;
using System.Net.Http.Headers;
using System.Text;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>What is noted of each report for the person who programs the station.</summary>
public sealed class ReportJournalTests(FleetApp app) : IntakeTest(app)
{
    [Fact]
    public async Task Reports_are_noted_with_their_answer_refused_ones_too()
    {
        using HttpResponseMessage broken = await PostAsync("[{");
        using HttpResponseMessage foreign = await PostAsync("""[{"bn":"OTT-1/","n":"a","v":1}]""");
        using HttpResponseMessage wrongType = await SendAsync(new StringContent("x", Encoding.UTF8, "text/plain"));
        using HttpResponseMessage nothing = await PostAsync($$"""[{"n":"tank/fill","t":{{Now}},"u":"m","v":1}]""");

        ReportJournal.Entry[] entries = [.. Journal.Entries];

        entries.Select(entry => entry.Answer.Status).Should().Equal(422, 415, 403, 400, 200);
        entries[^1].Answer.Accepted.Should().Be(2);
        entries[^1].Request.Bytes.Should().Be((int)entries[^1].Request.SentBytes!);
        entries[0].Answer.Reasons[0].Should().Contain("does not fit");
        entries[1].Request.MediaType.Should().StartWith("text/plain");
        entries[3].Answer.Detail.Should().StartWith("Record 0:");
        Encoding.UTF8.GetString(entries[3].Request.Body).Should().Be("[{");
    }

    [Fact]
    public async Task The_newest_50_are_kept_and_reports_that_were_refused_unread_take_one_place()
    {
        for (int i = 0; i < ReportJournal.MostKept + 5; i++)
        {
            using HttpResponseMessage answer = await PostAsync(Pack(0.5));
        }

        for (int i = 0; i < 7; i++)
        {
            using HttpResponseMessage answer = await SendAsync(new ByteArrayContent(new byte[ReportBody.Largest + 1]));
        }

        ReportJournal.Page page = Journal;
        page.Entries.Should().HaveCount(ReportJournal.MostKept);
        page.Entries[0].Answer.Status.Should().Be(413);
        page.Entries[0].Times.Should().Be(7);
        page.Entries.Select(entry => entry.Number).Should().BeInDescendingOrder();
    }

    [Fact]
    public async Task A_large_body_is_cut_and_a_key_in_a_body_is_taken_out()
    {
        using HttpResponseMessage answer = await PostAsync($$"""[{"n":"note","vs":"Bearer {{Key}}"},{"n":"long","vs":"{{new string('x', 20_000)}}"}]""");

        byte[] body = Journal.Entries[0].Request.Body;

        body.Length.Should().BeLessThanOrEqualTo(ReportJournal.LargestBody);
        Encoding.UTF8.GetString(body).Should().Contain("sfk_…").And.NotContain(Key).And.NotContain(Key[13..]);
        Journal.Entries[0].Request.Bytes.Should().BeGreaterThan(20_000);
    }

    [Fact]
    public async Task A_wrong_or_revoked_key_is_noted_with_its_head_only_and_forgotten_when_a_good_one_comes()
    {
        using HttpResponseMessage wrong = await PostWithAsync(Key[..^1] + (Key[^1] == 'a' ? 'b' : 'a'));
        ReportJournal.RefusedKey? first = Journal.RefusedKey;
        StationKeys keys = App.Get<StationKeys>();
        string old = await App.AddKeyAsync(Station.Id);
        await keys.RevokeAsync(((StationKeys.Lookup.Valid)await keys.FindAsync(old, CancellationToken.None)).Holder.KeyId, CancellationToken.None);
        using HttpResponseMessage revoked = await PostWithAsync(old);
        using HttpResponseMessage again = await PostWithAsync(old);
        ReportJournal.RefusedKey? second = Journal.RefusedKey;
        using HttpResponseMessage good = await PostAsync(Pack(0.5));

        (wrong.StatusCode, revoked.StatusCode).Should().Be((HttpStatusCode.Unauthorized, HttpStatusCode.Unauthorized));
        (first!.Prefix, first.Revoked, first.Times).Should().Be((Key[..12], null, 1));
        (second!.Prefix, second.Revoked, second.Times).Should().Be((old[..12], App.Clock.GetUtcNow(), 2));
        Journal.RefusedKey.Should().BeNull();
        (await wrong.Content.ReadAsStringAsync()).Length.Should().Be((await revoked.Content.ReadAsStringAsync()).Length, "a stranger learns nothing about a key");
    }

    private ReportJournal.Page Journal => App.Get<ReportJournal>().Read(Station.Id);

    private Task<HttpResponseMessage> PostWithAsync(string key) =>
        SendAsync(Pack(0.5), request => request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key));
}
