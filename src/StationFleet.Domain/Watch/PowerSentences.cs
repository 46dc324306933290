using System.Globalization;
using StationFleet.Domain.Power;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>Problems of battery, panel and loads in words.</summary>
internal static class PowerSentences
{
    public static string Charge(LowChargeEvidence charge, Reader reader)
    {
        string limit = NumberWords.Percent(charge.LimitShare);
        string now = Now(charge.ChargeShare, charge.Source);
        if (charge.ChargeShare < charge.LimitShare)
        {
            return $"{now}, under its limit of {limit}.";
        }

        return charge.Forecast is not { } forecast || forecast.WithinThreeDays < ChargeForecast.PossibleFrom
            ? $"{now}; its limit is {limit}."
            : $"{now}. That it falls under {limit} within three days is {forecast.InWords}{Window(forecast, reader)}.";
    }

    public static string Now(double chargeShare, ChargeSource source) => source switch
    {
        ChargeSource.Reported => $"The battery is at {NumberWords.Percent(chargeShare)}",
        ChargeSource.RestVoltage => $"The battery is at about {NumberWords.Percent(chargeShare)} by its rest voltage, of which published tables differ by 10 to 25 points",
        _ => chargeShare < 0.5 ? "The battery is nearly empty by its voltage" : "The battery is full by its voltage",
    };

    // «: between Thursday evening and Saturday morning (80 %), most likely Friday morning»: parts of the day, since a forecast is no timetable.
    private static string Window(ChargeForecast forecast, Reader reader)
    {
        return forecast switch
        {
            { Early: { } early, Likeliest: { } likeliest, Late: { } late } =>
                $": between {Part(early)} and {Part(late)} (80 %), most likely {Part(likeliest)}",
            { Early: { } early, Likeliest: { } likeliest } => $": most likely {Part(likeliest)}, hardly before {Part(early)}",
            { Early: { } early } => $": hardly before {Part(early)}",
            _ => "",
        };

        string Part(DateTimeOffset at) => TimeWords.PartOfDayAhead(at, reader.Now, reader.Zone);
    }

    public static string Cold(ColdBatteryEvidence cold, UnitSystem units) => cold.FreezesC is { } freezes
        ? $"{What(cold)} is at {Degrees(cold.TempC, units)}, and at {NumberWords.Percent(cold.ChargeShare ?? 0)} charge the battery’s acid freezes at {Degrees(freezes, units)}. "
            + "A frozen battery bursts: charge it or take it in, and never charge it frozen."
        : $"The battery is at {Degrees(cold.TempC, units)} and is being charged. Below {Degrees(BatteryCold.LithiumLeastC, units)} charging spoils a lithium iron phosphate battery for good: "
            + "stop the charging or warm it.";

    public static string Weak(WeakPanelEvidence weak, Reader reader)
    {
        string sentence = $"At its best it gives {NumberWords.Percent(weak.Ratio)} of what it used to, with the battery asking for all it has (last tested on "
            + $"{weak.TestedOn.ToString("d MMMM", CultureInfo.InvariantCulture)}). Dirt, new shade or a bad connection.";
        return weak is { OthersRatio: { } ratio, Others: { } count }
            ? $"{sentence} The {NumberWords.Count(count)} panels around are at {NumberWords.Percent(ratio)}."
            : sentence;
    }

    public static string None(NoPanelEvidence none, Reader reader) =>
        $"Nothing has come from the panel since {TimeWords.When(none.Since, reader.Now, reader.Zone)}, though the sun is up"
        + (none.ChargeShare is { } charge ? $" and the battery, at {NumberWords.Percent(charge)}, would take it" : "")
        + ". A loose connector, a blown fuse, a cover or snow.";

    public static string Load(ExtraLoadEvidence load) =>
        $"At night it draws {NumberWords.Brief(load.Watts)} W instead of the usual {NumberWords.Brief(load.UsualWatts)} W: "
        + $"{NumberWords.Figures(24 * (load.Watts - load.UsualWatts))} Wh more a day. Something stays on, or leaks.";

    public static string Aged(AgedBatteryEvidence aged) =>
        $"Over the last nights its charge fell as if it held {NumberWords.Figures(aged.HoldsWattHours)} Wh; it is set up with {NumberWords.Figures(aged.RatedWattHours)} Wh. "
        + "Old cells, a bad connection, or another battery than Office knows.";

    private static string What(ColdBatteryEvidence cold) => cold.IsOfAir ? "The air" : "The battery";

    private static string Degrees(double celsius, UnitSystem units) => units == UnitSystem.UsCustomary
        ? $"{NumberWords.Figures((celsius * 1.8) + 32)} °F"
        : $"{NumberWords.Figures(celsius)} °C";
}
