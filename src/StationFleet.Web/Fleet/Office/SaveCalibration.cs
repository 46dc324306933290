using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Sets a tank's sensor right by two readings, from an instant on.</summary>
internal sealed class SaveCalibration(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public StationId Station { get; init; }

        /// <summary>One of the <c>tank/…</c> names.</summary>
        public string Name { get; set; } = "";

        public string From { get; set; } = "";

        /// <summary>Heights in the reader's units; of <c>tank/fill</c> percent.</summary>
        public string LowRaw { get; set; } = "";

        public string LowTrue { get; set; } = "";

        public string HighRaw { get; set; } = "";

        public string HighTrue { get; set; } = "";

        /// <summary>In the reader's degrees.</summary>
        public string AirTemp { get; set; } = "";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Saved : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) =>
        viewer.MayChangeFleet()
            ? await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel)
            : new Outcome.NotAllowed();

    private async Task<Outcome> SaveAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        Station? station = await db.Stations.VisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == command.Station, cancel);
        if (station is null)
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        DateTimeOffset from = typed.Instant(
            nameof(Command.From), command.From, await StationZones.OfAsync(db, station.Id, clock.GetUtcNow(), options.Value, cancel));
        LevelCalibration calibration = Read(command, from, typed);
        if (typed.Wrong.Count == 0)
        {
            Check(await db.TankHistoryAsync(station.Id, cancel), calibration, typed);
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        db.StationCalibrations.Add(StationCalibration.Of(station.Id, calibration));
        return new Outcome.Saved();
    }

    private LevelCalibration Read(Command command, DateTimeOffset from, Typed typed)
    {
        UnitSystem units = options.Value.Units;
        bool isShare = command.Name == MeasurementName.TankFill;
        double? airTempC = typed.NumberOrNothing(nameof(Command.AirTemp), command.AirTemp, -60, 160) is { } degrees
            ? Units.CelsiusFrom(degrees, units)
            : null;
        return new LevelCalibration(
            command.Name,
            from,
            new CalibrationPoint(Number(nameof(Command.LowRaw), command.LowRaw), Number(nameof(Command.LowTrue), command.LowTrue)),
            new CalibrationPoint(Number(nameof(Command.HighRaw), command.HighRaw), Number(nameof(Command.HighTrue), command.HighTrue)),
            command.Name == MeasurementName.TankDistance ? airTempC : null);

        double Number(string field, string text) => isShare
            ? typed.Number(field, text, 0, 120, "%") / 100
            : Units.MetresFrom(typed.Number(field, text, 0, 400, Units.HeightUnit(units)), units);
    }

    private static void Check(TankHistory tank, LevelCalibration calibration, Typed typed)
    {
        if (tank.At(calibration.From) is null)
        {
            typed.Wrong.Note(nameof(Command.From), "No tank was set up yet at that time.");
        }
        else if (tank.Calibrations.Any(other => other.Name == calibration.Name && other.From == calibration.From))
        {
            typed.Wrong.Note(nameof(Command.From), "This sensor has a calibration from the same time. Remove that one first.");
        }

        if (calibration.Fault() is { } fault)
        {
            typed.Wrong.Note(TankReading.Names.Contains(calibration.Name) ? nameof(Command.HighTrue) : nameof(Command.Name), fault);
        }
    }
}
