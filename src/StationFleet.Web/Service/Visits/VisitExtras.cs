using System.Globalization;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Service.Visits;

/// <summary>Some of a part that a visit used.</summary>
/// <param name="Part">The part's number.</param>
/// <param name="Name">How people call it.</param>
/// <param name="Used">How many.</param>
internal sealed record PartUse(int Part, string Name, int Used);

/// <summary>Where the water went, what was used, whose hours: read from a visit's form.</summary>
/// <param name="Site">The disposal site's number; null when none was chosen.</param>
/// <param name="Hours">Whose hours; null when nobody said.</param>
/// <param name="Award">The award; null when nobody said.</param>
/// <param name="Parts">What was used.</param>
/// <param name="From">Where it came from.</param>
internal sealed record VisitExtras(int? Site, HoursKind? Hours, string? Award, IReadOnlyList<PartUse> Parts, PartPlace From)
{
    public const int LongestAward = 60;
    private const int MostUsed = 999;

    public static VisitExtras Read(VisitInput typed, VisitOffers offers, bool pumpedOut, DateTimeOffset doneAt, TimeZoneInfo zone, Dictionary<string, string> errors)
    {
        string award = typed.Award.Trim();
        if (award.Length > LongestAward)
        {
            errors[nameof(VisitInput.Award)] = $"Shorten it to {LongestAward} characters.";
        }

        return new VisitExtras(
            ReadSite(typed.Site, offers, pumpedOut, LocalCalendar.DateOf(doneAt, zone), errors),
            ReadChoice<HoursKind>(typed.Hours, nameof(VisitInput.Hours), errors),
            award.Length == 0 ? null : award,
            [.. offers.Parts.Select(part => new PartUse(part.Id, part.Name, ReadUsed(part.Id, typed, errors))).Where(use => use.Used > 0)],
            ReadChoice<PartPlace>(typed.PartsFrom, nameof(VisitInput.PartsFrom), errors) ?? PartPlace.Truck);
    }

    private static int? ReadSite(string typed, VisitOffers offers, bool pumpedOut, DateOnly day, Dictionary<string, string> errors)
    {
        string field = nameof(VisitInput.Site);
        VisitOffers.Site? site = offers.Sites.FirstOrDefault(one => one.Id.ToString(CultureInfo.InvariantCulture) == typed);
        if (site is null)
        {
            if (typed.Length > 0)
            {
                errors[field] = "Choose a place of the list.";
            }
            else if (pumpedOut && offers.Sites.Count > 0)
            {
                errors[field] = "Say where the water was taken.";
            }

            return null;
        }

        if (!pumpedOut)
        {
            errors.TryAdd(nameof(VisitInput.PumpedOut), "Write how much was pumped out: the place is kept with it.");
        }
        else if (site.LastDay < day)
        {
            errors[field] = $"Its permission ended on {SpokenDay(site.LastDay.Value)}. Call the office: where did the water go?";
        }

        return site.Id;
    }

    private static int ReadUsed(int part, VisitInput typed, Dictionary<string, string> errors)
    {
        string text = typed.Parts.GetValueOrDefault(part, "").Trim();
        if (text.Length == 0)
        {
            return 0;
        }

        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int used) && used <= MostUsed)
        {
            return used;
        }

        errors[VisitInput.FieldOf(part)] = "Write a whole number, such as 1.";
        return 0;
    }

    private static T? ReadChoice<T>(string typed, string field, Dictionary<string, string> errors)
        where T : struct, Enum
    {
        if (typed.Length == 0)
        {
            return null;
        }

        if (Enum.GetNames<T>().Contains(typed, StringComparer.Ordinal))
        {
            return Enum.Parse<T>(typed);
        }

        errors[field] = "Choose one of the list.";
        return null;
    }

    private static string SpokenDay(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
}
