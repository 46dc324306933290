using System.Globalization;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Service.Routes;

/// <summary>A day on the road in sentences.</summary>
public static class RouteWords
{
    /// <summary>«Three stops, 2 h 40 min of driving, back at 14:10.»</summary>
    /// <param name="plan">The day.</param>
    /// <param name="zone">The clock people go by.</param>
    public static string Headline(RoutePlan plan, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Stops.Count == 0)
        {
            return plan.Left.Count == 0 ? "Nobody has to drive." : $"{Stops(plan.Left.Count)} to make, and none fits into the day.";
        }

        string left = plan.Left.Count == 0 ? "" : $"; {NumberWords.Count(plan.Left.Count)} left for another day";
        return $"{Stops(plan.Stops.Count)}, {Length(plan.DrivingMinutes)} of driving, back at {Clock(plan.Back, zone)}{left}.";
    }

    /// <summary>Why a stop is not on today's way, in a sentence with its numbers.</summary>
    /// <param name="left">The stop.</param>
    /// <param name="plan">The day.</param>
    /// <param name="zone">The clock people go by.</param>
    public static string WhyLeft(LeftStop left, RoutePlan plan, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(left);
        ArgumentNullException.ThrowIfNull(plan);
        RouteInput input = plan.Input;
        double road = input.Driving.Minutes(input.Start, left.Stop.Place) + input.Driving.Minutes(left.Stop.Place, input.End);
        string needs = $"It takes {Length(left.Stop.Minutes)} there";
        return left.Why switch
        {
            LeftReason.TooFar => $"{needs} and {Length(road)} of driving, more than a day of {Length(60 * input.DayHours)}.",
            LeftReason.OutOfTime => $"It cannot be reached in its time, {Window(left.Stop, zone)}.",
            _ => $"{needs}; with it the day would not end by {Clock(input.StartsAt.AddHours(input.DayHours), zone)}, and {Yields(left.Stop.Priority)}.",
        };
    }

    /// <summary>Minutes as people say them: «25 min», «2 h», «2 h 40 min».</summary>
    /// <param name="minutes">Minutes; 0 or more.</param>
    public static string Length(double minutes)
    {
        int whole = (int)Math.Round(minutes);
        (int hours, int rest) = (whole / 60, whole % 60);
        return (hours, rest) switch
        {
            (0, _) => string.Create(CultureInfo.InvariantCulture, $"{rest} min"),
            (_, 0) => string.Create(CultureInfo.InvariantCulture, $"{hours} h"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{hours} h {rest} min"),
        };
    }

    /// <summary>A time of day: «14:10».</summary>
    /// <param name="at">The instant.</param>
    /// <param name="zone">The clock people go by.</param>
    public static string Clock(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("HH:mm", CultureInfo.InvariantCulture);

    private static string Stops(int count) => NumberWords.Capital($"{NumberWords.Count(count)} {(count == 1 ? "stop" : "stops")}");

    private static string Yields(RoutePriority priority) => priority switch
    {
        RoutePriority.Urgent => "other urgent stops cost less driving",
        RoutePriority.Usual => "it gives way to what is more urgent or nearer",
        _ => "it can wait",
    };

    private static string Window(RouteStop stop, TimeZoneInfo zone)
    {
        string from = stop.Needs.Max(need => need.NotBefore) is { } after ? $"from {Clock(after, zone)}" : "";
        string to = stop.Needs.Min(need => need.Before) is { } before ? $"by {Clock(before, zone)}" : "";
        return $"{from} {to}".Trim();
    }
}
