using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Guiding;

/// <summary>The cautions and steps of every rule, with who changed them.</summary>
public sealed class ReadGuidance(IDbContextFactory<FleetDbContext> databases, IOptions<FleetOptions> options)
{
    private const int MostChanges = 100;

    /// <param name="Cautions">As people see them.</param>
    /// <param name="Steps">As people see them.</param>
    public sealed record Row(Rule Rule, IReadOnlyList<string> Cautions, IReadOnlyList<string> Steps, GuidanceEdit Edit);

    public sealed record Change(string When, Rule Rule, string Who, string What, string Reason);

    /// <param name="History">The newest first, at most a hundred.</param>
    public sealed record View(IReadOnlyList<Row> Rows, IReadOnlyList<Change> History, bool MayChange);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Guidance guidance = await db.GuidanceAsync(cancel);
        List<GuidanceChange> changes = await db.GuidanceChanges.AsNoTracking().OrderByDescending(change => change.Id).Take(MostChanges).ToListAsync(cancel);
        return new View(
            [.. Enum.GetValues<Rule>().Select(rule => new Row(rule, guidance.CautionsFor(rule), guidance.StepsFor(rule), guidance.EditOf(rule)))],
            [.. changes.Select(change => new Change(LocalTimes.Say(change.At, options.Value.Zone), change.Rule, change.Who, What(change), change.Reason))],
            SaveGuidance.MayChange(viewer));
    }

    private static string What(GuidanceChange change)
    {
        GuidanceEdit edit = change.ToEdit();
        return edit.IsDefault ? "back to the defaults" : string.Join("; ", new[]
        {
            edit.Steps is { } steps ? $"steps: {string.Join(" · ", steps)}" : "",
            edit.AddedCautions.Count > 0 ? $"cautions added: {string.Join(" · ", edit.AddedCautions)}" : "",
            edit.RemovedCautions.Count > 0 ? $"default cautions left out: {string.Join(" · ", edit.RemovedCautions)}" : "",
        }.Where(part => part.Length > 0));
    }
}
