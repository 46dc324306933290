using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>Planned samples in words.</summary>
internal static class SampleSentences
{
    /// <summary>What is to be taken, until when, and why so soon.</summary>
    public static string Due(SampleDueEvidence due, Reader reader)
    {
        string planned = due.From == due.Due ? $"planned for {Day(due.Due, reader)}" : $"planned for {Day(due.From, reader)} to {Day(due.Due, reader)}";
        string what = $"A tank sample, {PlanWords.What(due.Grabs, due.LitresPerGrab)}, {planned}";
        if (due.Tank is { } tank)
        {
            string full = tank.Full is { } window ? $" and will be full {TankSentences.When(window, reader)}" : "";
            string why = tank.IsAskedFor
                ? $"The tank is {NumberWords.Percent(tank.FillShare)} full and is to be pumped out now"
                : $"The tank is {NumberWords.Percent(tank.FillShare)} full{full}: it is likely to be pumped out before {Day(due.Due, reader)}";
            return $"{what}. {why}. Take it before that; what is pumped out can no longer be sampled.";
        }

        int daysLate = LocalCalendar.DateOf(reader.Now, reader.Zone).DayNumber - due.Due.DayNumber;
        return daysLate switch
        {
            > 1 => $"{what}: {NumberWords.Count(daysLate)} days late. Its water is still in the tank, as far as is known.",
            1 => $"{what}: a day late. Its water is still in the tank, as far as is known.",
            0 => $"{what}: {Day(due.Due, reader)} is its last day.",
            _ => $"{what}. Take it before the next pump-out.",
        };
    }

    // Never «today»: a sentence may be read on another day, in a mail.
    private static string Day(DateOnly day, Reader reader)
    {
        DateOnly today = LocalCalendar.DateOf(reader.Now, reader.Zone);
        string format = day.Year == today.Year ? "dddd d MMMM" : "d MMMM yyyy";
        return day.ToString(format, System.Globalization.CultureInfo.InvariantCulture);
    }
}
