using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>What came of something that a person did to a sample, or to what is looked for in samples.</summary>
internal abstract record SampleAnswer
{
    private SampleAnswer()
    {
    }

    internal sealed record Saved : SampleAnswer;

    internal sealed record Refused(WrongFields Wrong) : SampleAnswer;

    /// <summary>Somebody else changed it meanwhile; nothing was stored.</summary>
    internal sealed record Changed : SampleAnswer;

    internal sealed record NotAllowed : SampleAnswer;
}

/// <summary>What changing a sample has in common: one transaction, the sample's version, its history.</summary>
internal sealed class SampleDesk(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    /// <summary>The sample within the transaction.</summary>
    internal sealed record Desk(FleetDbContext Db, Sample Sample, Viewer Viewer, DateTimeOffset Now)
    {
        public void Tell(SampleEventKind kind, string what) => Db.SampleEvents.Add(new SampleEvent
        {
            SampleId = Sample.Id, At = Now, Kind = kind, Who = Viewer.Name, What = what,
        });
    }

    /// <param name="version">The version that the form showed; null where others' changes do no harm.</param>
    public async Task<SampleAnswer> ActAsync(
        Viewer viewer, string code, int? version, Func<Desk, Task<SampleAnswer>> act, CancellationToken cancel) => viewer.MaySample()
        ? await databases.WriteAsync<SampleAnswer>(
            async db =>
            {
                if (await db.SamplesVisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code, cancel) is not { } sample)
                {
                    return new SampleAnswer.NotAllowed();
                }

                if (version is { } seen && seen != sample.Version)
                {
                    return new SampleAnswer.Changed();
                }

                SampleAnswer answer = await act(new Desk(db, sample, viewer, clock.GetUtcNow()));
                if (answer is SampleAnswer.Saved)
                {
                    sample.Version++;
                }

                return answer;
            },
            cancel)
        : new SampleAnswer.NotAllowed();
}
