using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service.Routes;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Sets what all days on the road are reckoned with.</summary>
internal sealed class SaveRouteSettings(IDbContextFactory<FleetDbContext> databases, IOptions<FleetOptions> options)
{
    private const int MostMinutes = 480;
    private const double KmPerMile = Units.MetresPerMile / 1000;

    internal sealed class Command
    {
        public string RoadFactor { get; set; } = "";

        /// <summary>In miles or kilometres an hour.</summary>
        public string Speed { get; set; } = "";

        public string StartsAt { get; set; } = "";

        public string DayHours { get; set; } = "";

        public string MinutesToUnpack { get; set; } = "";

        /// <summary>Minutes for the work of each rule.</summary>
        public Dictionary<Rule, string> Minutes { get; init; } = [];

        public static Command Of(RouteSettings settings, UnitSystem units) => new()
        {
            RoadFactor = Text(settings.RoadFactor),
            Speed = Text(Math.Round(units == UnitSystem.UsCustomary ? settings.SpeedKmh / KmPerMile : settings.SpeedKmh, 1)),
            StartsAt = settings.StartsAt.ToString("HH:mm", CultureInfo.InvariantCulture),
            DayHours = Text(settings.DayHours),
            MinutesToUnpack = Text(settings.MinutesToUnpack),
            Minutes = Enum.GetValues<Rule>().ToDictionary(rule => rule, rule => Text(settings.MinutesFor(rule))),
        };

        private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
    }

    public async Task<FormOutcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!RouteRights.MayChange(viewer))
        {
            return new FormOutcome.NotAllowed();
        }

        Typed typed = new();
        bool inMiles = options.Value.Units == UnitSystem.UsCustomary;
        double speed = typed.Number(nameof(Command.Speed), command.Speed, 5, 130, inMiles ? "miles an hour" : "km an hour");
        if (!TimeOnly.TryParseExact(command.StartsAt, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out TimeOnly startsAt))
        {
            typed.Wrong.Note(nameof(Command.StartsAt), "Write a time of day, such as 08:00.");
        }

        RouteSettings settings = new()
        {
            RoadFactor = typed.Number(nameof(Command.RoadFactor), command.RoadFactor, 1, 5),
            SpeedKmh = inMiles ? speed * KmPerMile : speed,
            StartsAt = startsAt,
            DayHours = typed.Number(nameof(Command.DayHours), command.DayHours, 1, 24, "hours"),
            MinutesToUnpack = Whole(typed, nameof(Command.MinutesToUnpack), command.MinutesToUnpack),
            Minutes = command.Minutes.Select(pair => (pair.Key, Minutes: Whole(typed, FieldOf(pair.Key), pair.Value)))
                .Where(pair => pair.Minutes != RouteWork.Minutes(pair.Key)).ToDictionary(pair => pair.Key, pair => pair.Minutes),
        };
        return typed.Wrong.Count > 0
            ? new FormOutcome.Refused(typed.Wrong)
            : await databases.WriteAsync<FormOutcome>(
                async db =>
                {
                    await RouteSettingsStore.WriteAsync(db, settings, cancel);
                    return new FormOutcome.Saved();
                },
                cancel);
    }

    /// <summary>The field of a rule's minutes.</summary>
    public static string FieldOf(Rule rule) => $"Minutes.{rule}";

    private static int Whole(Typed typed, string field, string text)
    {
        if (int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value <= MostMinutes)
        {
            return value;
        }

        typed.Wrong.Note(field, $"Write whole minutes from 0 to {MostMinutes}.");
        return 0;
    }
}
