using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Says which battery and panel a station has from an instant on, or corrects what was said.</summary>
internal sealed class SavePower(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public StationId Station { get; init; }

        /// <summary>The row to correct; null adds one.</summary>
        public int? Id { get; init; }

        public string From { get; set; } = "";

        public string Chemistry { get; set; } = nameof(BatteryChemistry.Agm);

        public string CapacityAh { get; set; } = "";

        public string NominalVolts { get; set; } = "12";

        public string PanelWatts { get; set; } = "";

        public string TiltDeg { get; set; } = "45";

        public string AzimuthDeg { get; set; } = "180";

        /// <summary>Metres over the sea; empty is sea level.</summary>
        public string HeightM { get; set; } = "";

        /// <summary>A <see cref="RestVoltageTable"/>; empty takes the usual one of the chemistry.</summary>
        public string RestTable { get; set; } = "";
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
        List<StationPower> powers = await db.StationPowers.Where(row => row.StationId == command.Station).ToListAsync(cancel);
        StationPower? power = command.Id is null ? null : powers.SingleOrDefault(row => row.Id == command.Id);
        if (station is null || (command.Id is not null && power is null))
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        DateTimeOffset from = typed.Instant(
            nameof(Command.From), command.From, await StationZones.OfAsync(db, station.Id, clock.GetUtcNow(), options.Value, cancel));
        double capacityAh = typed.Number(nameof(Command.CapacityAh), command.CapacityAh, 1, 5000, "Ah");
        double nominalVolts = typed.Number(nameof(Command.NominalVolts), command.NominalVolts, 6, 60, "V");
        double panelWatts = typed.Number(nameof(Command.PanelWatts), command.PanelWatts, 0, 5000, "W");
        double tiltDeg = typed.Number(nameof(Command.TiltDeg), command.TiltDeg, 0, 90, "degrees");
        double azimuthDeg = typed.Number(nameof(Command.AzimuthDeg), command.AzimuthDeg, 0, 360, "degrees");
        double heightM = command.HeightM.Trim().Length == 0 ? 0 : typed.Number(nameof(Command.HeightM), command.HeightM, -100, 6000, "m");
        RestVoltageTable? restTable = Enum.TryParse(command.RestTable, out RestVoltageTable table) && Enum.IsDefined(table) ? table : null;
        if (command.RestTable.Length > 0 && restTable is null)
        {
            typed.Wrong.Note(nameof(Command.RestTable), "Choose a table of the list.");
        }

        if (!Enum.TryParse(command.Chemistry, out BatteryChemistry chemistry) || !Enum.IsDefined(chemistry))
        {
            typed.Wrong.Note(nameof(Command.Chemistry), "Choose what the battery is made of.");
        }

        if (restTable is not null && chemistry == BatteryChemistry.LithiumIronPhosphate)
        {
            typed.Wrong.Note(nameof(Command.RestTable), "Charge cannot be told from the voltage of a lithium iron phosphate battery: choose none.");
        }

        if (from < station.Created)
        {
            typed.Wrong.Note(nameof(Command.From), "The station did not exist yet at that time.");
        }

        if (powers.Any(other => other.Id != command.Id && other.From == from))
        {
            typed.Wrong.Note(nameof(Command.From), "Another battery is set up from the same time. Correct that one.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (power is null)
        {
            power = new StationPower { StationId = station.Id };
            db.StationPowers.Add(power);
        }

        (power.From, power.Chemistry, power.CapacityAh, power.NominalVolts) = (from, chemistry, capacityAh, nominalVolts);
        (power.PanelWatts, power.TiltDeg, power.AzimuthDeg) = (panelWatts, tiltDeg, azimuthDeg);
        (power.HeightM, power.RestTable) = (heightM, restTable);
        return new Outcome.Saved();
    }
}
