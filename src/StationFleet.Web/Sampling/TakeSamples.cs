using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.Phone;

namespace StationFleet.Web.Sampling;

/// <summary>Stores what was taken at one tank at one time: grabs, the blank that vouches for them, and pieces. The same form twice stores it once.</summary>
internal sealed class TakeSamples(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private const double MostLitres = 200;
    private static readonly TimeSpan ClockMayBeAhead = TimeSpan.FromMinutes(10);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <param name="Codes">What to write on the jars.</param>
        internal sealed record Taken(IReadOnlyList<string> Codes) : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    /// <summary>A jar that the form tells of.</summary>
    private sealed record Jar(SampleKind Kind, double? Litres);

    public async Task<Outcome> HandleAsync(Viewer viewer, string key, TakeInput typed, CancellationToken cancel)
    {
        if (!viewer.MaySample())
        {
            return new Outcome.NotAllowed();
        }

        if (!FormKey.IsWhole(key))
        {
            return new Outcome.Refused(new WrongFields { [""] = FormKey.NotWhole });
        }

        return await databases.WriteAsync(db => TakeAsync(db, viewer, key, typed, cancel), cancel);
    }

    private async Task<Outcome> TakeAsync(FleetDbContext db, Viewer viewer, string key, TakeInput input, CancellationToken cancel)
    {
        List<string> known = await db.SamplesVisibleTo(viewer).Where(sample => sample.TakingKey == key)
            .OrderBy(sample => sample.Id).Select(sample => sample.Code).ToListAsync(cancel);
        if (known.Count > 0)
        {
            return new Outcome.Taken(known);
        }

        Typed typed = new();
        DateTimeOffset now = clock.GetUtcNow();
        Station? station = await db.Stations.VisibleTo(viewer).AsNoTracking().SingleOrDefaultAsync(row => row.Code == input.Station, cancel);
        if (station is null)
        {
            typed.Wrong.Note(nameof(TakeInput.Station), "Choose the station.");
            return new Outcome.Refused(typed.Wrong);
        }

        Access? present = await db.AccessAtAsync(station.Id, now, cancel);
        TimeZoneInfo zone = present?.Zone ?? options.Value.Zone;
        DateTimeOffset at = TakenAt(typed, input, station, zone, now);
        Access? access = await db.AccessAtAsync(station.Id, at, cancel);
        List<Jar> jars = Jars(typed, input);
        Sample values = Values(typed, input, viewer, key);
        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        List<Sample> samples = [];
        DateOnly day = LocalCalendar.DateOf(at, zone);
        foreach (IGrouping<SampleKind, Jar> kind in jars.GroupBy(jar => jar.Kind))
        {
            int number = await db.Samples.CountAsync(
                sample => sample.Code.StartsWith($"{station.Code}-{SampleCode.Day(day)}-") && sample.Kind == kind.Key, cancel);
            if (kind.Key == SampleKind.Grab && number + kind.Count() > SampleCode.MostGrabs)
            {
                typed.Wrong.Note("", "This station has had more grabs today than there are letters.");
                return new Outcome.Refused(typed.Wrong);
            }

            samples.AddRange(kind.Select(jar => Of(values, jar, station, access, at, SampleCode.Of(station.Code, day, kind.Key, ++number))));
        }

        db.Samples.AddRange(samples);
        await db.SaveChangesAsync(cancel);
        db.SampleEvents.AddRange(samples.Select(sample => new SampleEvent
        {
            SampleId = sample.Id, At = now, Kind = SampleEventKind.Taken, Who = viewer.Name, What = Told(sample, zone),
        }));
        return new Outcome.Taken([.. samples.Select(sample => sample.Code)]);
    }

    private static Sample Of(Sample values, Jar jar, Station station, Access? access, DateTimeOffset at, string code) => new()
    {
        Code = code, StationId = station.Id, AccessId = access?.Id, Kind = jar.Kind, TakingKey = values.TakingKey, TakenAt = at, TakenBy = values.TakenBy,
        Litres = jar.Litres, MeshUm = jar.Kind == SampleKind.Pieces ? null : values.MeshUm, WaterTempC = values.WaterTempC, LeftLitres = values.LeftLitres,
        Preservation = values.Preservation, Note = values.Note,
    };

    private static string Told(Sample sample, TimeZoneInfo zone) => sample.Litres is { } litres
        ? FormattableString.Invariant($"Taken {LocalTimes.Say(sample.TakenAt, zone)}: {SamplingWords.Of(sample.Kind)} of {litres:0.###} L.")
        : $"Taken {LocalTimes.Say(sample.TakenAt, zone)}: {SamplingWords.Of(sample.Kind)}.";

    private static DateTimeOffset TakenAt(Typed typed, TakeInput input, Station station, TimeZoneInfo zone, DateTimeOffset now)
    {
        if (input.TakenAt == input.TakenAtShown)
        {
            return now - KeptOnPhone.Read(input.KeptSeconds);
        }

        DateTimeOffset at = typed.Instant(nameof(TakeInput.TakenAt), input.TakenAt, zone);
        if (at > now + ClockMayBeAhead)
        {
            typed.Wrong.Note(nameof(TakeInput.TakenAt), "This is still to come. When was the sample taken?");
        }
        else if (at < station.Created)
        {
            typed.Wrong.Note(nameof(TakeInput.TakenAt), "The station did not exist yet.");
        }

        return at;
    }

    // Grabs are the replicates, and one dip poured into several jars is one grab: the form has to be told which it is.
    private static List<Jar> Jars(Typed typed, TakeInput input)
    {
        List<Jar> jars = [];
        for (int row = 0; row < input.Grabs.Count; row++)
        {
            if (typed.NumberOrNothing(TakeInput.GrabField(row), input.Grabs[row], 0.01, MostLitres, "L") is { } litres)
            {
                jars.Add(new Jar(SampleKind.Grab, litres));
            }
        }

        if (jars.Count > 1 && input.Dips is not TakeInput.OwnDips)
        {
            typed.Wrong.Note(nameof(TakeInput.Dips), input.Dips == TakeInput.OneDip
                ? "Poured from one dip they are one grab, not replicates: write their sum as grab A and leave the others empty. The laboratory splits it into aliquots."
                : "Say whether each grab came from a dip of its own.");
        }

        if (typed.NumberOrNothing(nameof(TakeInput.Blank), input.Blank, 0.01, MostLitres, "L") is { } clean)
        {
            jars.Add(new Jar(SampleKind.Blank, clean));
        }

        if (input.HasPieces)
        {
            jars.Add(new Jar(SampleKind.Pieces, null));
        }

        if (jars.Count == 0)
        {
            typed.Wrong.Note(TakeInput.GrabField(0), "Write how many litres grab A holds; or a blank, or that there were plants or snails.");
        }

        return jars;
    }

    private Sample Values(Typed typed, TakeInput input, Viewer viewer, string key)
    {
        UnitSystem units = options.Value.Units;
        double? left = typed.NumberOrNothing(nameof(TakeInput.Left), input.Left, 0, 10_000, Units.VolumeUnit(units));
        double? degrees = typed.NumberOrNothing(
            nameof(TakeInput.Temperature), input.Temperature, Units.TemperatureFor(-2, units), Units.TemperatureFor(50, units), Units.TemperatureUnit(units));
        if (!Enum.TryParse(input.Preservation, out Preservation preservation) || !Enum.IsDefined(preservation))
        {
            typed.Wrong.Note(nameof(TakeInput.Preservation), "Choose one of the list.");
        }

        if (input.Note.Length > 2000)
        {
            typed.Wrong.Note(nameof(TakeInput.Note), "Shorten it to 2,000 characters.");
        }

        return new Sample
        {
            Code = "", TakingKey = key, TakenBy = viewer.Name,
            MeshUm = typed.NumberOrNothing(nameof(TakeInput.Mesh), input.Mesh, 1, 5000, "µm"),
            WaterTempC = degrees is { } read ? Units.CelsiusFrom(read, units) : null,
            LeftLitres = left is { } rest ? Units.LitresFrom(rest, units) : null,
            Preservation = preservation,
            Note = string.IsNullOrWhiteSpace(input.Note) ? null : input.Note.Trim(),
        };
    }
}
