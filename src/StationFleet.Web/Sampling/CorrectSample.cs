using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Fills in or corrects what is known of a sample; its history tells each old value and the new.</summary>
internal sealed class CorrectSample(SampleDesk desk, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public int Version { get; init; }

        /// <summary>Local time of the access.</summary>
        public string TakenAt { get; set; } = "";

        public string TakenBy { get; set; } = "";

        public string Litres { get; set; } = "";

        public string Mesh { get; set; } = "";

        /// <summary>In the reader's unit, as is what was left.</summary>
        public string Temperature { get; set; } = "";

        public string Left { get; set; } = "";

        public string RinseMl { get; set; } = "";

        public string ConcentrateMl { get; set; } = "";

        public string Preservation { get; set; } = "";

        public string Note { get; set; } = "";

        public string Why { get; set; } = "";

        public static Command Of(Sample sample, TimeZoneInfo zone, UnitSystem units) => new()
        {
            Version = sample.Version,
            TakenAt = LocalTimes.ForField(sample.TakenAt, zone),
            TakenBy = sample.TakenBy,
            Litres = Text(sample.Litres),
            Mesh = Text(sample.MeshUm),
            Temperature = Text(sample.WaterTempC is { } celsius ? Units.TemperatureFor(celsius, units) : null),
            Left = Text(sample.LeftLitres is { } left ? Units.VolumeFor(left, units) : null),
            RinseMl = Text(sample.RinseMl),
            ConcentrateMl = Text(sample.ConcentrateMl),
            Preservation = sample.Preservation.ToString(),
            Note = sample.Note ?? "",
        };

        private static string Text(double? value) => value is { } number ? SampleTexts.Number(number) : "";
    }

    public Task<SampleAnswer> HandleAsync(Viewer viewer, string code, Command command, CancellationToken cancel) =>
        desk.ActAsync(viewer, code, command.Version, at => CorrectAsync(at, command, cancel), cancel);

    private async Task<SampleAnswer> CorrectAsync(SampleDesk.Desk at, Command command, CancellationToken cancel)
    {
        UnitSystem units = options.Value.Units;
        Access? access = await at.Db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Id == at.Sample.AccessId, cancel);
        TimeZoneInfo zone = access?.Zone ?? options.Value.Zone;
        Sample sample = at.Sample;
        Command shown = Command.Of(sample, zone, units);
        Typed typed = new();
        List<string> changes = [];

        // What was left as shown stays as it is stored, with all its decimals.
        if (command.TakenAt != shown.TakenAt)
        {
            DateTimeOffset taken = typed.Instant(nameof(Command.TakenAt), command.TakenAt, zone);
            if (taken > at.Now)
            {
                typed.Wrong.Note(nameof(Command.TakenAt), "This is still to come. When was the sample taken?");
            }

            Change("Taken", LocalTimes.Say(sample.TakenAt, zone), LocalTimes.Say(taken, zone), () => sample.TakenAt = taken);
        }

        string by = typed.Text(nameof(Command.TakenBy), command.TakenBy, 120, "Write who took it.");
        Change("Taken by", sample.TakenBy, by, () => sample.TakenBy = by);
        Number(nameof(Command.Litres), "Volume", command.Litres, shown.Litres, sample.Litres, 0.01, 200, "L", value => sample.Litres = value);
        Number(nameof(Command.Mesh), "Mesh", command.Mesh, shown.Mesh, sample.MeshUm, 1, 5000, "µm", value => sample.MeshUm = value);
        Number(nameof(Command.RinseMl), "Rinse", command.RinseMl, shown.RinseMl, sample.RinseMl, 0, 100_000, "mL", value => sample.RinseMl = value);
        Number(nameof(Command.ConcentrateMl), "Concentrate", command.ConcentrateMl, shown.ConcentrateMl, sample.ConcentrateMl, 0.1, 100_000, "mL", value => sample.ConcentrateMl = value);
        Number(
            nameof(Command.Temperature), "Water", command.Temperature, shown.Temperature, sample.WaterTempC is { } was ? Units.TemperatureFor(was, units) : null,
            Units.TemperatureFor(-2, units), Units.TemperatureFor(50, units), Units.TemperatureUnit(units),
            value => sample.WaterTempC = value is { } degrees ? Units.CelsiusFrom(degrees, units) : null);
        Number(
            nameof(Command.Left), "Left after the pump-out before", command.Left, shown.Left, sample.LeftLitres is { } rest ? Units.VolumeFor(rest, units) : null,
            0, 10_000, Units.VolumeUnit(units), value => sample.LeftLitres = value is { } left ? Units.LitresFrom(left, units) : null);
        if (sample.Kind != SampleKind.Pieces && command.Litres.Trim().Length == 0)
        {
            typed.Wrong.Note(nameof(Command.Litres), "Write its litres: without them no count says anything.");
        }

        await CheckConcentrateAsync(at, command, typed, cancel);
        if (!Enum.TryParse(command.Preservation, out Preservation means) || !Enum.IsDefined(means))
        {
            typed.Wrong.Note(nameof(Command.Preservation), "Choose one of the list.");
        }

        Change("Kept with", SamplingWords.Of(sample.Preservation), SamplingWords.Of(means), () => sample.Preservation = means);
        string note = command.Note.Trim();
        if (note.Length > 2000)
        {
            typed.Wrong.Note(nameof(Command.Note), "Shorten it to 2,000 characters.");
        }

        Change("Note", sample.Note ?? "–", note.Length == 0 ? "–" : note, () => sample.Note = note.Length == 0 ? null : note);
        if (command.Why.Length > 500)
        {
            typed.Wrong.Note(nameof(Command.Why), "Shorten it to 500 characters.");
        }

        if (typed.Wrong.Count > 0)
        {
            at.Db.ChangeTracker.Clear();
            return new SampleAnswer.Refused(typed.Wrong);
        }

        if (changes.Count > 0)
        {
            string why = command.Why.Trim();
            at.Tell(SampleEventKind.Corrected, string.Join("; ", changes) + (why.Length > 0 ? $". {why}" : "."));
        }

        return new SampleAnswer.Saved();

        void Number(string field, string name, string typedText, string shownText, double? old, double least, double most, string unit, Action<double?> set)
        {
            if (typedText.Trim() != shownText)
            {
                double? value = typed.NumberOrNothing(field, typedText, least, most, unit);
                Change(name, SampleTexts.Value(old, unit), SampleTexts.Value(value, unit), () => set(value));
            }
        }

        void Change(string name, string old, string now, Action set)
        {
            if (!string.Equals(old, now, StringComparison.Ordinal))
            {
                changes.Add($"{name}: {old} → {now}");
                set();
            }
        }
    }

    // A smaller concentrate than what was looked through would make more water of the grab than there was.
    private static async Task CheckConcentrateAsync(SampleDesk.Desk at, Command command, Typed typed, CancellationToken cancel)
    {
        double examinedMl = await at.Db.SampleAliquots.Where(aliquot => aliquot.SampleId == at.Sample.Id && aliquot.RecountOf == null)
            .SumAsync(aliquot => aliquot.ExaminedMl, cancel);
        if (at.Sample.ConcentrateMl is { } whole && whole < examinedMl)
        {
            typed.Wrong.Note(nameof(Command.ConcentrateMl), $"Its aliquots are {SampleTexts.Number(examinedMl)} mL together already.");
        }
        else if (at.Sample.ConcentrateMl is null && at.Sample.Litres * 1000 < examinedMl)
        {
            typed.Wrong.Note(nameof(Command.Litres), $"Its aliquots are {SampleTexts.Number(examinedMl)} mL together already.");
        }
    }
}
