using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Writes down that an item left, or is kept after its award's purpose ended; what is owed follows from it.</summary>
internal sealed class DisposeItem(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public required EquipmentId Id { get; init; }

        public string Day { get; set; } = "";

        public string Method { get; set; } = nameof(DispositionMethod.Sold);

        public string SalePrice { get; set; } = "";

        public string FairMarketValue { get; set; } = "";

        public string Note { get; set; } = "";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Done : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks())
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        if (!Enum.TryParse(command.Method, out DispositionMethod method) || !Enum.IsDefined(method))
        {
            typed.Wrong.Note(nameof(Command.Method), "Choose how it left.");
        }

        DateOnly day = typed.Day(nameof(Command.Day), command.Day, new DateOnly(1990, 1, 1), today);
        Money value = TypedMoney.Read(typed, nameof(Command.FairMarketValue), command.FairMarketValue);
        Money? price = method == DispositionMethod.Sold ? TypedMoney.Read(typed, nameof(Command.SalePrice), command.SalePrice) : null;
        string note = typed.Text(nameof(Command.Note), command.Note, 1000, "Write to whom it went, and why.");
        return await databases.WriteAsync(
            async db =>
            {
                EquipmentItem? item = await db.Equipment.SingleOrDefaultAsync(row => row.Id == command.Id, cancel);
                if (item is null || item.DisposedOn is not null || !await SaveItem.MayChangeAsync(db, viewer, item, cancel))
                {
                    return new Outcome.NotAllowed();
                }

                if (day < item.Acquired)
                {
                    typed.Wrong.Note(nameof(Command.Day), $"It was acquired only on {GrantWords.Day(item.Acquired)}.");
                }

                if (typed.Wrong.Count > 0)
                {
                    return new Outcome.Refused(typed.Wrong);
                }

                (item.DisposedOn, item.DisposedHow, item.SalePrice, item.FairMarketValue, item.DisposedNote) = (day, method, price, value, note);
                return (Outcome)new Outcome.Done();
            },
            cancel);
    }
}
