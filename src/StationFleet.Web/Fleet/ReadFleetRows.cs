using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet;

/// <summary>Fills in what lists show of stations, out of roll-ups and newest values only.</summary>
public sealed class ReadFleetRows(
    IDbContextFactory<FleetDbContext> databases, MeasurementReader measurements, FleetClock clock)
{
    private const int StripDays = 14;

    /// <param name="stations">The stations that the viewer sees.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<IReadOnlyList<FleetRow>> HandleAsync(IEnumerable<ReadStationStates.State> stations, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        ILookup<StationId, Tool> tools = (await db.Tools.AsNoTracking().ToListAsync(cancel)).ToLookup(tool => tool.StationId);
        IReadOnlyDictionary<StationId, TankHistory> tanks = await db.TankHistoriesAsync(cancel);
        Dictionary<StationId, double> raiseShares = await db.StationRules
            .ToDictionaryAsync(rules => rules.StationId, rules => rules.Settings.TankRaiseShare, cancel);
        Dictionary<StationId, StationAhead> ahead = await db.AheadAsync(cancel);
        DateTimeOffset now = clock.GetUtcNow();

        List<FleetRow> rows = [];
        foreach (ReadStationStates.State state in stations)
        {
            DateOnly yesterday = LocalCalendar.DateOf(now, state.Zone).AddDays(-1);
            IReadOnlyList<double?> strip = await StripAsync(state.Id, tools[state.Id], yesterday, cancel);
            IReadOnlyList<LatestValue> latest = await measurements.LatestAsync(state.Id, cancel);
            rows.Add(new FleetRow(
                state.Code,
                state.Place,
                state.Condition,
                state.LastHeard,
                strip[^1],
                strip,
                ahead.GetValueOrDefault(state.Id)?.TankShare ?? FillOf(latest, tanks.GetValueOrDefault(state.Id)),
                ahead.GetValueOrDefault(state.Id) is { } coming ? AheadWords.Tank(coming, now, state.Zone) : null,
                raiseShares.GetValueOrDefault(state.Id, RuleSettings.Default.TankRaiseShare),
                latest.Where(value => value.Name == MeasurementName.BatteryCharge).Select(value => (double?)value.Value).FirstOrDefault(),
                state.OpenTickets));
        }

        return rows;
    }

    private async Task<IReadOnlyList<double?>> StripAsync(
        StationId station, IEnumerable<Tool> tools, DateOnly yesterday, CancellationToken cancel)
    {
        string[] names = [.. tools.Select(tool => MeasurementName.Uses(tool.Slug)).Distinct()];
        DateOnly first = yesterday.AddDays(1 - StripDays);
        var uses = (await measurements.DaysAsync([station], names, first, yesterday, cancel))
            .GroupBy(row => row.RollUp.Day)
            .ToDictionary(day => day.Key, day => day.Sum(row => row.RollUp.Figures.Gained));
        return [.. Enumerable.Range(0, StripDays).Select(day => uses.TryGetValue(first.AddDays(day), out double count) ? (double?)count : null)];
    }

    // A station whose tank nobody has set up may still send its fill.
    private static double? FillOf(IReadOnlyList<LatestValue> latest, TankHistory? tank) => tank is null
        ? latest.Where(value => value.Name == MeasurementName.TankFill).Select(value => (double?)value.Value).FirstOrDefault()
        : tank.ReadBest([.. latest.Select(value => new Measurement(value.Name, value.At, value.Value))])?.Amount.Share;
}
