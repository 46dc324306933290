using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Sampling;
using StationFleet.Reports.Sampling;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>The labels of samples, in the order asked for.</summary>
internal sealed class ReadLabels(IDbContextFactory<FleetDbContext> databases, IOptions<FleetOptions> options)
{
    public const int Most = 60;

    /// <param name="viewer">Who asks.</param>
    /// <param name="codes">The samples' codes.</param>
    /// <param name="host">The address at which the person reached us; a set public address goes before it.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<IReadOnlyList<SampleLabel>> HandleAsync(Viewer viewer, IReadOnlyList<string> codes, string host, CancellationToken cancel)
    {
        string address = options.Value.PublicUrl is { Length: > 0 } url ? url.TrimEnd('/') : host;
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Sample> samples = await db.SamplesVisibleTo(viewer).AsNoTracking().Where(sample => codes.Contains(sample.Code)).ToListAsync(cancel);
        Dictionary<Domain.Fleet.AccessId, Access> accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(access => access.Id, cancel);
        return
        [
            .. codes.Distinct().Select(code => samples.Find(sample => sample.Code == code)).OfType<Sample>()
                .Select(sample => Of(sample, sample.AccessId is { } id ? accesses[id] : null, address)),
        ];
    }

    private SampleLabel Of(Sample sample, Access? access, string address)
    {
        string[] what =
        [
            SamplingWords.Of(sample.Kind),
            .. sample.Litres is { } litres ? (string[])[$"{SampleTexts.Number(litres)} L"] : [],
            .. sample.MeshUm is { } mesh ? (string[])[$"{SampleTexts.Number(mesh)} µm"] : [],
        ];
        return new SampleLabel(
            sample.Code,
            $"{address}/samples/{sample.Code}",
            [
                access is null ? "in transit" : $"{access.Name}, {access.Water}",
                LocalTimes.Say(sample.TakenAt, access?.Zone ?? options.Value.Zone),
                string.Join(", ", what),
                sample.Preservation == Preservation.None ? "nothing added" : $"kept with {SamplingWords.Of(sample.Preservation)}",
                $"{sample.TakenBy}, {options.Value.Organization}",
            ],
            sample.Preservation == Preservation.Ethanol);
    }
}
