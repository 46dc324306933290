using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Corrects one count; the history keeps what stood there before, and why it was wrong.</summary>
internal sealed class CorrectCount(SampleDesk desk, NewFinds finds)
{
    internal sealed class Command
    {
        public int Count { get; init; }

        public string Value { get; set; } = "";

        public string Why { get; set; } = "";
    }

    public Task<SampleAnswer> HandleAsync(Viewer viewer, string code, Command command, CancellationToken cancel) =>
        desk.ActAsync(viewer, code, null, at => CorrectAsync(at, command, cancel), cancel);

    private async Task<SampleAnswer> CorrectAsync(SampleDesk.Desk at, Command command, CancellationToken cancel)
    {
        var known = await (
            from count in at.Db.AliquotCounts
            join aliquot in at.Db.SampleAliquots on count.AliquotId equals aliquot.Id
            join taxon in at.Db.Taxa on count.TaxonId equals taxon.Id
            where count.Id == command.Count && aliquot.SampleId == at.Sample.Id
            select new { Count = count, aliquot.Number, taxon.Name }).SingleOrDefaultAsync(cancel);
        if (known is null)
        {
            return new SampleAnswer.NotAllowed();
        }

        Typed typed = new();
        if (!int.TryParse(command.Value.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int value) || value > 100_000)
        {
            typed.Wrong.Note(nameof(Command.Value), "Write a whole number, 0 to 100000.");
        }

        string why = typed.Text(nameof(Command.Why), command.Why, 500, "Say in a line why the old number was wrong.");
        if (typed.Wrong.Count > 0)
        {
            return new SampleAnswer.Refused(typed.Wrong);
        }

        string name = SamplingWords.Named(known.Name, known.Count.Stage);
        at.Tell(SampleEventKind.Corrected, string.Create(CultureInfo.InvariantCulture, $"Aliquot {known.Number}, {name}: {known.Count.Count} → {value}. {why}"));
        known.Count.Count = value;
        if (value > 0)
        {
            await finds.RaiseAsync(at.Db, at.Sample, [known.Count.TaxonId], at.Viewer.Name, at.Now, cancel);
        }

        return new SampleAnswer.Saved();
    }
}
