using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Writes down that a sample went from one hand to another. Steps are never changed: a wrong one is followed by a right one.</summary>
internal sealed class HandOver(SampleDesk desk, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        /// <summary>The form's own key.</summary>
        public string Key { get; init; } = "";

        /// <summary>Local time of the access.</summary>
        public string At { get; set; } = "";

        public string RelinquishedBy { get; set; } = "";

        public string ReceivedBy { get; set; } = "";

        public string Seal { get; set; } = "";

        public string Preservative { get; set; } = "";

        public string Courier { get; set; } = "";

        public string LaboratoryNumber { get; set; } = "";

        /// <summary>A local day.</summary>
        public string Promised { get; set; } = "";
    }

    public Task<SampleAnswer> HandleAsync(Viewer viewer, string code, Command command, CancellationToken cancel) =>
        desk.ActAsync(viewer, code, null, at => WriteAsync(at, command, cancel), cancel);

    private async Task<SampleAnswer> WriteAsync(SampleDesk.Desk at, Command command, CancellationToken cancel)
    {
        if (await at.Db.CustodySteps.AnyAsync(step => step.SampleId == at.Sample.Id && step.IdempotencyKey == command.Key, cancel))
        {
            return new SampleAnswer.Saved();
        }

        Access? access = await at.Db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Id == at.Sample.AccessId, cancel);
        TimeZoneInfo zone = access?.Zone ?? options.Value.Zone;
        Typed typed = new();
        DateTimeOffset when = typed.Instant(nameof(Command.At), command.At, zone);
        if (when > at.Now.AddMinutes(10))
        {
            typed.Wrong.Note(nameof(Command.At), "This is still to come. When was it handed over?");
        }
        else if (typed.Wrong.Count == 0 && when.AddMinutes(1) < at.Sample.TakenAt)
        {
            typed.Wrong.Note(nameof(Command.At), "This is before the sample was taken.");
        }

        string from = typed.Text(nameof(Command.RelinquishedBy), command.RelinquishedBy, 120, "Write who gave it away.");
        string to = typed.Text(nameof(Command.ReceivedBy), command.ReceivedBy, 120, "Write who received it.");
        DateOnly today = LocalCalendar.DateOf(at.Now, zone);
        DateOnly? promised = string.IsNullOrWhiteSpace(command.Promised)
            ? null
            : typed.Day(nameof(Command.Promised), command.Promised, today.AddYears(-2), today.AddYears(2));
        string? seal = Short(nameof(Command.Seal), command.Seal);
        string? preservative = Short(nameof(Command.Preservative), command.Preservative);
        string? courier = Short(nameof(Command.Courier), command.Courier);
        string? number = Short(nameof(Command.LaboratoryNumber), command.LaboratoryNumber);
        if (typed.Wrong.Count > 0)
        {
            return new SampleAnswer.Refused(typed.Wrong);
        }

        at.Db.CustodySteps.Add(new CustodyStep
        {
            SampleId = at.Sample.Id, At = when, RelinquishedBy = from, ReceivedBy = to, Seal = seal, Preservative = preservative, Courier = courier,
            LaboratoryNumber = number, Promised = promised, IdempotencyKey = command.Key,
        });
        at.Tell(SampleEventKind.HandedOver, $"From {from} to {to}, {LocalTimes.Say(when, zone)}{(seal is null ? "" : $", seal {seal}")}.");
        return new SampleAnswer.Saved();

        string? Short(string field, string text) => string.IsNullOrWhiteSpace(text) ? null : typed.Text(field, text, 120, "");
    }
}
