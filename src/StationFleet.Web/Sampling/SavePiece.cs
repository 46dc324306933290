using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Stores or corrects what was picked out of one kind of plant or snail: presence, fragments, weight.</summary>
internal sealed class SavePiece(SampleDesk desk, NewFinds finds)
{
    internal sealed class Command
    {
        public int Taxon { get; init; }

        /// <summary>«yes», «no» or nothing.</summary>
        public string Present { get; set; } = "";

        public string Pieces { get; set; } = "";

        public string WeightG { get; set; } = "";

        public string IdentifiedBy { get; set; } = "";

        public string Confidence { get; set; } = nameof(Domain.Sampling.Confidence.Certain);
    }

    public Task<SampleAnswer> HandleAsync(Viewer viewer, string code, Command command, CancellationToken cancel) =>
        desk.ActAsync(viewer, code, null, at => SaveAsync(at, command, cancel), cancel);

    private async Task<SampleAnswer> SaveAsync(SampleDesk.Desk at, Command command, CancellationToken cancel)
    {
        TaxonId id = new(command.Taxon);
        PieceFind? known = await at.Db.PieceFinds.SingleOrDefaultAsync(find => find.SampleId == at.Sample.Id && find.TaxonId == id, cancel);
        Taxon? taxon = known is null
            ? await at.Db.TaxaOf(at.Sample, CountedAs.Pieces).AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, cancel)
            : await at.Db.Taxa.AsNoTracking().SingleAsync(row => row.Id == id, cancel);
        if (taxon is null || at.Sample.Kind != SampleKind.Pieces)
        {
            return new SampleAnswer.NotAllowed();
        }

        Typed typed = new();
        bool isPresent = command.Present == "yes";
        if (command.Present is not ("yes" or "no"))
        {
            typed.Wrong.Note(nameof(Command.Present), "Say whether it was there.");
        }

        int? pieces = Pieces(typed, command);
        double? weightG = typed.NumberOrNothing(nameof(Command.WeightG), command.WeightG, 0, 1_000_000, "g");
        if (!isPresent && (pieces > 0 || weightG > 0))
        {
            typed.Wrong.Note(nameof(Command.Present), "It has pieces or a weight: then it was there.");
        }

        string by = typed.Text(nameof(Command.IdentifiedBy), command.IdentifiedBy, 120, "Write who identified it.");
        if (!Enum.TryParse(command.Confidence, out Confidence confidence) || !Enum.IsDefined(confidence))
        {
            typed.Wrong.Note(nameof(Command.Confidence), "Choose one of the list.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new SampleAnswer.Refused(typed.Wrong);
        }

        string before = known is null ? "" : Words(known);
        if (known is null)
        {
            known = new PieceFind { SampleId = at.Sample.Id, TaxonId = id, IdentifiedBy = by };
            at.Db.PieceFinds.Add(known);
        }

        (known.IsPresent, known.Pieces, known.WeightG, known.IdentifiedBy, known.Confidence) = (isPresent, pieces, weightG, by, confidence);
        at.Tell(
            before.Length == 0 ? SampleEventKind.Counted : SampleEventKind.Corrected,
            before.Length == 0 ? $"{taxon.Name}: {Words(known)}." : $"{taxon.Name}: {before} → {Words(known)}.");
        if (isPresent)
        {
            await finds.RaiseAsync(at.Db, at.Sample, [id], at.Viewer.Name, at.Now, cancel);
        }

        return new SampleAnswer.Saved();
    }

    private static int? Pieces(Typed typed, Command command)
    {
        if (string.IsNullOrWhiteSpace(command.Pieces))
        {
            return null;
        }

        if (!int.TryParse(command.Pieces.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int pieces) || pieces > 100_000)
        {
            typed.Wrong.Note(nameof(Command.Pieces), "Write a whole number, 0 to 100000.");
        }

        return pieces;
    }

    private static string Words(PieceFind find)
    {
        string there = find.IsPresent ? "present" : "looked for, none";
        string pieces = find.Pieces is { } number ? string.Create(CultureInfo.InvariantCulture, $", {number} pieces") : "";
        string weight = find.WeightG is { } grams ? $", {SampleTexts.Number(grams)} g" : "";
        return $"{there}{pieces}{weight}, identified by {find.IdentifiedBy}, {SamplingWords.Of(find.Confidence)}";
    }
}
