using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Says since when a taxon is known from a water, or takes that back; and whom an agency's rules want told of a new find.</summary>
internal sealed class SaveKnownTaxon(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public int Taxon { get; init; }

        public string Water { get; set; } = "";

        /// <summary>A local day.</summary>
        public string Since { get; set; } = "";

        public string Basis { get; set; } = "";
    }

    internal sealed class Rules
    {
        public int Agency { get; init; }

        public string Contact { get; set; } = "";

        public string Hours { get; set; } = "";
    }

    public Task<SampleAnswer> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => databases.WriteAsync<SampleAnswer>(
        async db =>
        {
            TaxonId id = new(command.Taxon);
            if (await db.Taxa.SingleOrDefaultAsync(row => row.Id == id, cancel) is not { } taxon || !ListTaxa.MayChange(viewer, taxon.AgencyId))
            {
                return new SampleAnswer.NotAllowed();
            }

            Typed typed = new();
            if (!await db.Accesses.AnyAsync(access => access.Water == command.Water, cancel))
            {
                typed.Wrong.Note(nameof(Command.Water), "Choose a water of the list.");
            }

            DateOnly since = typed.Day(
                nameof(Command.Since), command.Since, new DateOnly(1900, 1, 1), LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone));
            string basis = typed.Text(nameof(Command.Basis), command.Basis, 200, "Write who says so: a survey, a laboratory, the agency.");
            if (typed.Wrong.Count > 0)
            {
                return new SampleAnswer.Refused(typed.Wrong);
            }

            KnownTaxon? known = await db.KnownTaxa.SingleOrDefaultAsync(row => row.TaxonId == id && row.Water == command.Water, cancel);
            if (known is null)
            {
                known = new KnownTaxon { TaxonId = id, Water = command.Water, Basis = basis };
                db.KnownTaxa.Add(known);
            }

            (known.Since, known.Basis) = (since, basis);
            return new SampleAnswer.Saved();
        },
        cancel);

    /// <summary>Takes back that a taxon is known from a water: its next count there is a new find.</summary>
    public Task<SampleAnswer> RemoveAsync(Viewer viewer, int known, CancellationToken cancel) => databases.WriteAsync<SampleAnswer>(
        async db =>
        {
            KnownTaxon? row = await db.KnownTaxa.SingleOrDefaultAsync(one => one.Id == known, cancel);
            if (row is null || !ListTaxa.MayChange(viewer, (await db.Taxa.SingleAsync(taxon => taxon.Id == row.TaxonId, cancel)).AgencyId))
            {
                return new SampleAnswer.NotAllowed();
            }

            db.KnownTaxa.Remove(row);
            return new SampleAnswer.Saved();
        },
        cancel);

    public Task<SampleAnswer> SaveRulesAsync(Viewer viewer, Rules rules, CancellationToken cancel) => databases.WriteAsync<SampleAnswer>(
        async db =>
        {
            AgencyId id = new(rules.Agency);
            Agency? agency = await db.Agencies.SingleOrDefaultAsync(row => row.Id == id, cancel);
            if (agency is null || !ListTaxa.MayChange(viewer, id))
            {
                return new SampleAnswer.NotAllowed();
            }

            Typed typed = new();
            string? contact = string.IsNullOrWhiteSpace(rules.Contact) ? null : typed.Text(nameof(Rules.Contact), rules.Contact, 200, "");
            double? hours = typed.NumberOrNothing(nameof(Rules.Hours), rules.Hours, 1, 8760, "hours");
            if (hours is { } whole && whole != Math.Floor(whole))
            {
                typed.Wrong.Note(nameof(Rules.Hours), "Write whole hours.");
            }

            if (typed.Wrong.Count > 0)
            {
                return new SampleAnswer.Refused(typed.Wrong);
            }

            (agency.FindContact, agency.FindHours) = (contact, (int?)hours);
            return new SampleAnswer.Saved();
        },
        cancel);
}
