using StationFleet.Web.Accounts;

namespace StationFleet.Web.Sampling;

/// <summary>Stores the sound aliquots of a laboratory's spreadsheet, each as the bench form would.</summary>
internal sealed class BringLaboratorySheet(ReadLaboratorySheet read, SaveCounts save)
{
    /// <param name="Stored">How many aliquots were stored.</param>
    /// <param name="Refused">What the rest of each aliquot stumbled over.</param>
    internal sealed record Result(int Stored, IReadOnlyList<string> Refused);

    public async Task<Result> HandleAsync(Viewer viewer, string text, CancellationToken cancel)
    {
        if (!viewer.MaySample())
        {
            return new Result(0, ["Your role only reads samples."]);
        }

        int stored = 0;
        List<string> refused = [];
        foreach (ReadLaboratorySheet.Aliquot aliquot in (await read.HandleAsync(viewer, text, cancel)).Aliquots)
        {
            // The same file again finds the aliquots stored, so a key of its own is enough.
            switch (await save.HandleAsync(viewer, aliquot.Sample, Guid.NewGuid().ToString("N"), aliquot.Input, cancel))
            {
                case SaveCounts.Outcome.Saved:
                    stored++;
                    break;
                case SaveCounts.Outcome.Refused wrong:
                    refused.Add($"{aliquot.Sample}, aliquot {aliquot.Number}: {string.Join(' ', wrong.Wrong.Values)}");
                    break;
                default:
                    refused.Add($"{aliquot.Sample}, aliquot {aliquot.Number}: not among yours.");
                    break;
            }
        }

        return new Result(stored, refused);
    }
}
