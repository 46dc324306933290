using System.Globalization;
using System.Text.RegularExpressions;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Web.Service.Phone;
using StationFleet.Web.Service.Visits;

namespace StationFleet.Web.Service;

/// <summary>What a visit's form is read against.</summary>
/// <param name="Zone">The time zone of the access.</param>
/// <param name="Now">The present.</param>
/// <param name="Raised">When the ticket was raised.</param>
/// <param name="Units">The units of what is typed.</param>
/// <param name="Tank">The station's tank, when it is known.</param>
/// <param name="KnownSteps">The steps that the form offered.</param>
internal sealed record VisitLimits(
    TimeZoneInfo Zone, DateTimeOffset Now, DateTimeOffset Raised, UnitSystem Units, TankSetup? Tank, IReadOnlyList<string> KnownSteps)
{
    /// <summary>The sites and parts that the form offered.</summary>
    public VisitOffers Offers { get; init; } = VisitOffers.None;

    public string VolumeWord => Units == UnitSystem.UsCustomary ? "gallons" : "litres";
}

/// <summary>What a person did at a station, read from the form.</summary>
/// <param name="At">When the work was done.</param>
/// <param name="PumpedOutLitres">What was pumped out [L]; null when nothing was written.</param>
/// <param name="Dip">What the stick said before; null when nobody dipped.</param>
/// <param name="Minutes">Minutes at the station.</param>
/// <param name="Found">In the person's words; may be empty.</param>
/// <param name="Steps">The steps that were ticked.</param>
/// <param name="Outcome">How the ticket ended; null when none was chosen.</param>
internal sealed partial record VisitReport(
    DateTimeOffset At, double? PumpedOutLitres, DipReading? Dip, int? Minutes, string Found, IReadOnlyList<string> Steps, TicketOutcome? Outcome)
{
    /// <summary>Where the water went, what was used, whose hours.</summary>
    public required VisitExtras Extras { get; init; }

    // More than a part-full tank with its rinsing water can give.
    private const double MostTankfuls = 3;
    private const double MostLitres = 20_000;
    private static readonly TimeSpan PhoneAhead = TimeSpan.FromMinutes(10);

    /// <summary>Whether somebody was there, rather than wrote from the office.</summary>
    public bool IsVisit =>
        PumpedOutLitres > 0 || Extras.Parts.Count > 0 || Minutes is not null || Steps.Count > 0 || Outcome is TicketOutcome.Fixed or TicketOutcome.NothingWrong;

    /// <summary>For the history: the person's words, then the steps, then the parts.</summary>
    public string Note => string.Join('\n', new[]
    {
        Found,
        Steps.Count > 0 ? $"Done: {string.Join(" · ", Steps)}" : "",
        Extras.Parts.Count > 0 ? $"Used: {string.Join(" · ", Extras.Parts.Select(use => $"{use.Used} {use.Name}"))}" : "",
    }.Where(part => part.Length > 0));

    /// <summary>Reads a form; every field that is wrong has its sentence.</summary>
    public static VisitReport? Read(VisitInput typed, VisitLimits limits, out Dictionary<string, string> errors)
    {
        errors = [];
        DateTimeOffset doneAt = ReadDoneAt(typed, limits, errors);
        double? pumpedOut = ReadVolume(typed.PumpedOut, nameof(VisitInput.PumpedOut), limits, errors);
        VisitReport report = new(
            doneAt,
            pumpedOut,
            DipField.Read(typed, limits, errors),
            ReadMinutes(typed.Minutes, errors),
            typed.Found.Trim(),
            [.. limits.KnownSteps.Where(typed.Steps.Contains)],
            ReadOutcome(typed.Outcome, errors))
        {
            Extras = VisitExtras.Read(typed, limits.Offers, pumpedOut > 0, doneAt, limits.Zone, errors),
        };
        if (report.Note.Length > VisitInput.LongestNote)
        {
            int over = report.Note.Length - VisitInput.LongestNote;
            errors[nameof(VisitInput.Found)] = $"Shorten it by {over} characters.";
        }

        return errors.Count == 0 ? report : null;
    }

    private static DateTimeOffset ReadDoneAt(VisitInput typed, VisitLimits limits, Dictionary<string, string> errors)
    {
        string text = typed.DoneAt.Trim();
        if (text.Length == 0 || text == typed.DoneAtShown.Trim())
        {
            return limits.Now - KeptOnPhone.Read(typed.KeptSeconds);
        }

        if (!DateTime.TryParseExact(
            text, ["yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd HH:mm"], CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime local)
            || limits.Zone.IsInvalidTime(local))
        {
            errors[nameof(VisitInput.DoneAt)] = "Write a date and a time, such as 2026-07-08 10:30.";
            return limits.Now;
        }

        // An hour that the clock change repeats: the later one, unless it is still to come.
        TimeSpan[] offsets = limits.Zone.IsAmbiguousTime(local) ? limits.Zone.GetAmbiguousTimeOffsets(local) : [limits.Zone.GetUtcOffset(local)];
        DateTimeOffset at = offsets.Select(offset => new DateTimeOffset(local, offset)).OrderDescending()
            .FirstOrDefault(candidate => candidate <= limits.Now + PhoneAhead);
        if (at == default)
        {
            errors[nameof(VisitInput.DoneAt)] = "This is still to come. When was the work done?";
        }
        else if (at < limits.Raised.AddDays(-1))
        {
            errors[nameof(VisitInput.DoneAt)] = "This is more than a day before the ticket was raised.";
        }

        return at;
    }

    private static double? ReadVolume(string typed, string field, VisitLimits limits, Dictionary<string, string> errors)
    {
        if (typed.Trim().Length == 0)
        {
            return null;
        }

        if (Amount(typed) is not { } amount)
        {
            errors[field] = $"Write a number of {limits.VolumeWord}, such as 45 or 45.5.";
            return null;
        }

        double litres = Units.LitresFrom(amount, limits.Units);
        if (limits.Tank?.CapacityLitres is { } capacity && litres > MostTankfuls * capacity)
        {
            errors[field] =
                $"The tank holds {NumberWords.Figures(Units.VolumeFor(capacity, limits.Units))} {Units.VolumeUnit(limits.Units)}. Is the number right?";
        }
        else if (litres > MostLitres)
        {
            errors[field] = "No tank here is that large. Is the number right?";
        }

        return litres;
    }

    /// <summary>A number as people write it, 0 or more; null when it is none.</summary>
    public static double? Amount(string typed) =>
        AmountShape().IsMatch(typed.Trim())
        && double.TryParse(typed.Trim().Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double amount)
            ? amount
            : null;

    private static int? ReadMinutes(string typed, Dictionary<string, string> errors)
    {
        string text = typed.Trim();
        if (text.Length == 0)
        {
            return null;
        }

        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int minutes) && minutes <= 1440)
        {
            return minutes;
        }

        errors[nameof(VisitInput.Minutes)] = "Write whole minutes, 0 to 1440.";
        return null;
    }

    private static TicketOutcome? ReadOutcome(string typed, Dictionary<string, string> errors)
    {
        switch (typed)
        {
            case "":
                return null;
            case nameof(TicketOutcome.Fixed) or nameof(TicketOutcome.NothingWrong) or nameof(TicketOutcome.NotDone):
                return Enum.Parse<TicketOutcome>(typed);
            default:
                errors[nameof(VisitInput.Outcome)] = "Choose one of the three.";
                return null;
        }
    }

    // One decimal sign, point or comma; «1,200» would be taken for 1.2, so three digits after a comma are refused.
    [GeneratedRegex(@"^\d{1,6}([.]\d{1,3}|,\d{1,2})?$")]
    private static partial Regex AmountShape();
}
