using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>Problems of the waste tank in words.</summary>
internal static class TankSentences
{
    private static readonly TimeSpan NamedWithin = TimeSpan.FromDays(10);

    /// <summary>How full, when it will be full, and what its water weighs.</summary>
    public static string Filling(TankFillingEvidence tank, Urgency urgency, Reader reader)
    {
        double litres = tank.FillShare * tank.CapacityLitres;
        string sentence =
            $"The tank holds {Number(litres, reader)} of {Volume(tank.CapacityLitres, reader)} ({NumberWords.Percent(tank.FillShare)}).";
        sentence += (tank.FillShare, tank.Full) switch
        {
            ( >= 1, _) => " It is full.",
            (_, { } full) => $" It will be full {When(full, reader)}.",
            (_, null) when tank.LitresPerDay is > 0 and { } daily =>
                $" Some {Volume(daily, reader)} come in a day, by the few days that are known.",
            _ => "",
        };
        return urgency == Urgency.NeedsVisit
            ? $"{sentence} Its water weighs about {NumberWords.Figures(Units.WaterMassFor(litres, reader.Units))} {Units.MassUnit(reader.Units)}: pump it out, do not lift."
            : sentence;
    }

    /// <summary>When something is expected: «between Thursday and Saturday (80 %), most likely Friday afternoon».</summary>
    /// <param name="window">The window.</param>
    /// <param name="reader">For whom.</param>
    public static string When(ForecastWindow window, Reader reader)
    {
        if (window.Likeliest is not { } likeliest || likeliest - reader.Now > NamedWithin)
        {
            return window.Early - reader.Now > NamedWithin
                ? "in more than 10 days"
                : $"in more than 10 days, most likely; one time in ten before {TimeWords.DayAhead(window.Early, reader.Now, reader.Zone)}";
        }

        string early = TimeWords.DayAhead(window.Early, reader.Now, reader.Zone);
        string likely = $"most likely {TimeWords.PartOfDayAhead(likeliest, reader.Now, reader.Zone)}";
        return window.Late switch
        {
            null => $"after {early} (90 %), {likely}",
            { } late when TimeWords.DayAhead(late, reader.Now, reader.Zone) is var end && end != early => $"between {early} and {end} (80 %), {likely}",
            _ => $"on {early} (80 %), {likely}",
        };
    }

    /// <summary>A sensor that stands still.</summary>
    public static string Still(TankStillEvidence still, Reader reader) =>
        $"The tank's sensor has said {Volume(still.Litres, reader)} since {TimeWords.When(still.Since, reader.Now, reader.Zone)}, while the uses since then "
        + $"should have added about {Volume(still.MissedLitres, reader)}. It stands still, or the vacuum draws nothing.";

    /// <summary>A sensor that jumps.</summary>
    public static string Jumping(TankJumpingEvidence jumping, Reader reader) =>
        $"The tank's sensor jumped to other levels and back {(jumping.Jumps == 1 ? "once" : $"{NumberWords.Figures(jumping.Jumps)} times")} within about nine hours, "
        + $"last {TimeWords.When(jumping.LastAt, reader.Now, reader.Zone)}. Something hangs in its way, or its wire is loose.";

    /// <summary>A level that creeps.</summary>
    public static string Creep(TankCreepEvidence creep, UnitSystem units)
    {
        string rate = $"{NumberWords.Brief(Units.VolumeFor(Math.Abs(creep.LitresPerDay), units))} {Units.VolumeUnit(units)} a day";
        string nights = creep.Nights == 1 ? "over one night" : $"over {NumberWords.Figures(creep.Nights)} nights";
        return creep.LitresPerDay < 0
            ? $"The tank's level falls by {rate} when nobody uses anything, {nights}: a leak, a siphon, or a sensor that drifts."
            : $"The tank's level rises by {rate} when nobody uses anything, {nights}: rain that gets in, or a sensor that drifts.";
    }

    /// <summary>A dip that does not fit.</summary>
    public static string Dip(TankDipEvidence dip, Reader reader)
    {
        double apart = Math.Abs(dip.SensorLitres - dip.DipLitres) / dip.CapacityLitres;
        return $"The dip at the pump-out on {TimeWords.Day(dip.At, reader.Now, reader.Zone)} read {Volume(dip.DipLitres, reader)}, the sensor "
            + $"{Volume(dip.SensorLitres, reader)}: {NumberWords.Percent(apart)} of the tank apart.";
    }

    private static string Volume(double litres, Reader reader) => $"{Number(litres, reader)} {Units.VolumeUnit(reader.Units)}";

    private static string Number(double litres, Reader reader) => NumberWords.Brief(Units.VolumeFor(litres, reader.Units));
}
