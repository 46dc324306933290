using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Adds an award or corrects it, with the stations that its reports tell of.</summary>
public sealed class SaveAward(IDbContextFactory<FleetDbContext> databases)
{
    public sealed class Command
    {
        /// <summary>The award to correct; null adds one.</summary>
        public AwardId? Id { get; init; }

        public string Number { get; set; } = "";

        public string Title { get; set; } = "";

        public string Funder { get; set; } = "";

        public string Starts { get; set; } = "";

        public string Ends { get; set; } = "";

        public string Rhythm { get; set; } = nameof(ReportRhythm.Quarterly);

        public string Terms { get; set; } = "1";

        public bool IsFederal { get; set; } = true;

        public bool IsSubrecipient { get; set; }

        public string MatchRequired { get; set; } = "0";

        /// <summary>The stations' codes, with commas between.</summary>
        public string Stations { get; set; } = "";
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        public sealed record Saved(AwardId Id) : Outcome;

        public sealed record Refused(WrongFields Wrong) : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks() || viewer.Agency is not null)
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        string number = typed.Text(nameof(Command.Number), command.Number, 60, "Write the award's number.");
        string title = typed.Text(nameof(Command.Title), command.Title, 200, "Write what it is for.");
        string funder = typed.Text(nameof(Command.Funder), command.Funder, 120, "Write who gives it.");
        (DateOnly earliest, DateOnly latest) = (new DateOnly(1990, 1, 1), new DateOnly(2100, 1, 1));
        DateOnly starts = typed.Day(nameof(Command.Starts), command.Starts, earliest, latest);
        DateOnly ends = typed.Day(nameof(Command.Ends), command.Ends, earliest, latest);
        if (typed.Wrong.Count == 0 && ends <= starts)
        {
            typed.Wrong.Note(nameof(Command.Ends), "It must end after it starts.");
        }

        Money match = TypedMoney.Read(typed, nameof(Command.MatchRequired), command.MatchRequired);
        if (!Enum.TryParse(command.Rhythm, out ReportRhythm rhythm) || !Enum.IsDefined(rhythm))
        {
            typed.Wrong.Note(nameof(Command.Rhythm), "Choose how often it wants a report.");
        }

        return await databases.WriteAsync(
            async db =>
            {
                Award? award = command.Id is { } id ? await db.Awards.SingleOrDefaultAsync(row => row.Id == id, cancel) : null;
                if (command.Id is not null && award is null)
                {
                    return new Outcome.NotAllowed();
                }

                AwardId own = command.Id ?? new AwardId(0);
                if (await db.Awards.AnyAsync(row => row.Number == number && row.Id != own, cancel))
                {
                    typed.Wrong.Note(nameof(Command.Number), "Another award has this number.");
                }

                _ = int.TryParse(command.Terms, out int terms);
                if (!await db.AwardTerms.AnyAsync(set => set.Id == terms, cancel))
                {
                    typed.Wrong.Note(nameof(Command.Terms), "Choose terms of the list.");
                }

                string[] codes = command.Stations.Split([',', ' ', ';'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
                Dictionary<string, StationId> stations = await db.Stations.Where(station => codes.Contains(station.Code))
                    .ToDictionaryAsync(station => station.Code, station => station.Id, cancel);
                if (codes.FirstOrDefault(code => !stations.ContainsKey(code)) is { } unknown)
                {
                    typed.Wrong.Note(nameof(Command.Stations), $"There is no station {unknown}.");
                }

                if (typed.Wrong.Count > 0)
                {
                    return new Outcome.Refused(typed.Wrong);
                }

                if (award is null)
                {
                    award = new Award { Number = number, Title = title, Funder = funder };
                    db.Awards.Add(award);
                }

                (award.Number, award.Title, award.Funder, award.Starts, award.Ends) = (number, title, funder, starts, ends);
                (award.Rhythm, award.TermsId, award.IsFederal, award.IsSubrecipient, award.MatchRequired) =
                    (rhythm, terms, command.IsFederal, command.IsSubrecipient, match);
                await db.SaveChangesAsync(cancel);
                await db.AwardStations.Where(row => row.AwardId == award.Id).ExecuteDeleteAsync(cancel);
                db.AddRange(stations.Values.Select(station => new AwardStation { AwardId = award.Id, StationId = station }));
                return (Outcome)new Outcome.Saved(award.Id);
            },
            cancel);
    }
}
