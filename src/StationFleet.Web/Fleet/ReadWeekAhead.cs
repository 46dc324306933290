using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Grants;
using StationFleet.Web.Sampling;

namespace StationFleet.Web.Fleet;

/// <summary>What the coming seven days hold: a lane for each station that has something coming, and one for the office.</summary>
public sealed class ReadWeekAhead(IDbContextFactory<FleetDbContext> databases, ReadDueDates dueDates)
{
    private const int Days = 7;
    private const double Worth = 0.05;

    /// <summary>Something that is coming.</summary>
    /// <param name="Kind">Which colour and sign it has.</param>
    /// <param name="From">Where its bar begins, in percent of the week; null for a date.</param>
    /// <param name="At">Where it most likely lies; null: after the week.</param>
    /// <param name="To">Where its bar ends.</param>
    /// <param name="Label">What it is.</param>
    /// <param name="Sentence">The same in a sentence.</param>
    /// <param name="Day">The day on which it is most likely.</param>
    public sealed record Item(WeekItemKind Kind, double? From, double? At, double To, string Label, string Sentence, DateOnly Day);

    /// <summary>One lane.</summary>
    /// <param name="Name">Whose.</param>
    /// <param name="Items">What is coming, by time.</param>
    public sealed record Lane(string Name, IReadOnlyList<Item> Items);

    /// <summary>The picture.</summary>
    /// <param name="DayNames">The days, today first.</param>
    /// <param name="Lanes">The lanes that have something coming.</param>
    public sealed record View(IReadOnlyList<string> DayNames, IReadOnlyList<Lane> Lanes);

    internal async Task<View> HandleAsync(
        Viewer viewer, IReadOnlyCollection<ReadStationStates.State> stations, TimeZoneInfo zone, UnitSystem units, DateTimeOffset now, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(now, zone);
        Week week = new(LocalCalendar.StartOf(today, zone), LocalCalendar.StartOf(today.AddDays(Days), zone));
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Dictionary<StationId, StationAhead> ahead = await db.AheadAsync(cancel);
        ILookup<StationId, Item> moves = await MovesAsync(db, week, now, zone, cancel);
        Dictionary<StationId, TimeZoneInfo> zones = stations.ToDictionary(station => station.Id, station => station.Zone);
        ILookup<StationId, SamplesAhead.Due> samples = await db.SamplesDueAsync(today, week.End, station => zones.GetValueOrDefault(station) ?? zone, now, cancel);
        List<Lane> lanes = [];
        foreach (ReadStationStates.State station in stations)
        {
            Reader reader = new(units, station.Zone, now);
            bool isWatched = station.Condition is not (StationCondition.Winterized or StationCondition.InTransit or StationCondition.AccessClosed);
            Item[] items =
            [
                .. isWatched && ahead.TryGetValue(station.Id, out StationAhead? own) ? Forecasts(own, week, reader) : [],
                .. isWatched ? samples[station.Id].Select(due => Sample(due, week, reader)) : [],
                .. moves[station.Id],
            ];
            if (items.Length > 0)
            {
                lanes.Add(new Lane(station.Code, [.. items.OrderBy(item => item.At ?? item.To)]));
            }
        }

        Item[] office =
        [
            .. from due in await dueDates.HandleAsync(viewer, today.AddDays(Days - 1), cancel)
               where due.Due >= today
               let at = week.Place(LocalCalendar.StartOf(due.Due, zone).AddHours(12))
               select new Item(WeekItemKind.Date, null, at, at, $"{due.Number} report", $"{due.What} of {due.Number} is due on {Say(due.Due)}.", due.Due),
        ];
        return new View(
            [.. Enumerable.Range(0, Days).Select(day => day == 0 ? "Today" : today.AddDays(day).ToString("ddd d", System.Globalization.CultureInfo.InvariantCulture))],
            office.Length > 0 ? [.. lanes, new Lane("Office", office)] : lanes);
    }

    private static IEnumerable<Item> Forecasts(StationAhead ahead, Week week, Reader reader)
    {
        if (ahead.TankFull is { } full && full.Early < week.End && ahead.TankShare < 1)
        {
            yield return new Item(
                full.Early - reader.Now < TimeSpan.FromHours(24) ? WeekItemKind.Urgent : WeekItemKind.Tank,
                week.Place(full.Early),
                week.In(full.Likeliest),
                week.Place(full.Late ?? week.End),
                $"tank full, {AheadWords.Days(full, reader.Now, reader.Zone)}",
                $"The tank will be full {ProblemSentences.When(full, reader)}.",
                LocalCalendar.DateOf(week.In(full.Likeliest) is null ? full.Early : full.Likeliest!.Value, reader.Zone));
        }

        if (ahead.Charge is { Early: { } early, InWords: { } word } charge && early < week.End && charge.ChargeShare >= charge.LimitShare && charge.WithinThreeDays >= Worth)
        {
            yield return new Item(
                WeekItemKind.Charge,
                week.Place(early),
                week.In(charge.Likeliest),
                week.Place(charge.Late ?? week.End),
                AheadWords.Charge(charge),
                $"The charge may fall under {NumberWords.Percent(charge.LimitShare)}; within three days that is {word}.",
                LocalCalendar.DateOf(week.In(charge.Likeliest) is null ? early : charge.Likeliest!.Value, reader.Zone));
        }
    }

    // By the end of a day: the mark stands at its noon.
    private static Item Sample(SamplesAhead.Due due, Week week, Reader reader)
    {
        DateOnly today = LocalCalendar.DateOf(reader.Now, reader.Zone);
        DateOnly day = due.IsBeforePumpOut ? LocalCalendar.DateOf(due.By, reader.Zone) : due.Taking.Due;
        bool isLate = day < today;
        day = isLate ? today : day;
        double at = week.Place(due.IsBeforePumpOut ? due.By : LocalCalendar.StartOf(day, reader.Zone).AddHours(12));
        string label = isLate ? "sample is late" : due.IsBeforePumpOut ? "sample before the pump-out" : "sample due";
        string what = PlanWords.What(due.Taking.Grabs, due.Taking.LitresPerGrab);
        string sentence = isLate
            ? $"A sample ({what}) was due on {Say(due.Taking.Due)} and is late."
            : due.IsBeforePumpOut
                ? $"A sample ({what}) is due before the tank is pumped out, likely on {Say(day)}."
                : $"A sample ({what}) is due on {Say(day)} at the latest.";
        return new Item(WeekItemKind.Date, null, at, at, label, sentence, day);
    }

    private static async Task<ILookup<StationId, Item>> MovesAsync(FleetDbContext db, Week week, DateTimeOffset now, TimeZoneInfo zone, CancellationToken cancel)
    {
        List<Placement> placements = await db.Placements.AsNoTracking()
            .Where(placement => (placement.From > now && placement.From < week.End) || (placement.To > now && placement.To < week.End)).ToListAsync(cancel);
        Dictionary<AccessId, string> names = await db.Accesses.ToDictionaryAsync(access => access.Id, access => access.Name, cancel);
        IEnumerable<(StationId Station, Item Item)> all =
            from placement in placements
            from move in new[] { (At: (DateTimeOffset?)placement.From, What: "is placed at"), (At: placement.To, What: "leaves") }
            let at = move.At ?? week.End
            where at > now && at < week.End
            let place = week.Place(at)
            let what = $"{move.What} {names[placement.AccessId]}"
            select (placement.StationId, new Item(WeekItemKind.Date, null, place, place, what, $"It {what} on {Say(LocalCalendar.DateOf(at, zone))}.", LocalCalendar.DateOf(at, zone)));
        return all.ToLookup(one => one.Station, one => one.Item);
    }

    private static string Say(DateOnly day) => day.ToString("ddd d MMM", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The seven days as a line from 0 to 100.</summary>
    private readonly record struct Week(DateTimeOffset Start, DateTimeOffset End)
    {
        public double Place(DateTimeOffset instant) => Math.Round(100 * Math.Clamp((instant - Start) / (End - Start), 0, 1), 2);

        public double? In(DateTimeOffset? instant) => instant < End ? Place(instant.Value) : null;
    }
}

/// <summary>What something in the week ahead is drawn as.</summary>
public enum WeekItemKind
{
    /// <summary>A full tank.</summary>
    Tank,

    /// <summary>A full tank that may come within a day.</summary>
    Urgent,

    /// <summary>A low battery.</summary>
    Charge,

    /// <summary>A date.</summary>
    Date,
}
