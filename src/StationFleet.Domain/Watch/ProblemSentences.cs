using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>For whom a sentence is put into words.</summary>
/// <param name="Units">The reader's units.</param>
/// <param name="Zone">The access's time zone.</param>
/// <param name="Now">The present instant.</param>
public readonly record struct Reader(UnitSystem Units, TimeZoneInfo Zone, DateTimeOffset Now);

/// <summary>Problems in words: what to do, and why.</summary>
public static class ProblemSentences
{
    /// <summary>The rule's name.</summary>
    /// <param name="rule">The rule.</param>
    public static string Name(Rule rule) => rule switch
    {
        Rule.IdleTool => "Idle tool",
        Rule.TankFilling => "Tank filling",
        Rule.LowCharge => "Low charge",
        Rule.NotReporting => "Not reporting",
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "There is no such rule."),
    };

    /// <summary>What a person has to do about it, as a heading without a full stop.</summary>
    /// <param name="evidence">The numbers behind the problem.</param>
    public static string Title(Evidence evidence) => evidence switch
    {
        IdleToolEvidence idle => $"Find out why the {InSentence(idle.ToolName)} is not used",
        TankFillingEvidence => "Pump out the tank",
        LowChargeEvidence => "Find out why the battery is low",
        NotReportingEvidence => "Find out why the station is silent",
        _ => throw new ArgumentOutOfRangeException(nameof(evidence), evidence, "There are no words for this evidence."),
    };

    /// <summary>Why, with the numbers.</summary>
    /// <param name="evidence">The numbers behind the problem.</param>
    /// <param name="urgency">What it asks of people: who has to go is told what to beware of.</param>
    /// <param name="reader">For whom.</param>
    public static string Sentence(Evidence evidence, Urgency urgency, Reader reader) => evidence switch
    {
        IdleToolEvidence idle => Idle(idle, reader),
        TankFillingEvidence tank => Tank(tank, urgency, reader.Units),
        LowChargeEvidence charge =>
            $"The battery is at {NumberWords.Percent(charge.ChargeShare)}, under its limit of {NumberWords.Percent(charge.LimitShare)}.",
        NotReportingEvidence silence => Silence(silence, reader),
        _ => throw new ArgumentOutOfRangeException(nameof(evidence), evidence, "There are no words for this evidence."),
    };

    private static string Idle(IdleToolEvidence idle, Reader reader)
    {
        string since = TimeWords.When(idle.WatchedSince, reader.Now, reader.Zone);
        string times = idle.OtherUses == 1 ? "once" : $"{NumberWords.Figures(idle.OtherUses)} times";
        string others = idle.LastUse == idle.WatchedSince ? "" : " since then";
        string what = idle.LastUse == idle.WatchedSince
            ? $"has not been used since {since}"
            : $"has not been used since the watch over it began on {since}";
        return $"The {InSentence(idle.ToolName)} {what}; the other tools were used {times}{others}.";
    }

    private static string Tank(TankFillingEvidence tank, Urgency urgency, UnitSystem units)
    {
        double litres = tank.FillShare * tank.CapacityLitres;
        string unit = Units.VolumeUnit(units);
        string sentence =
            $"The tank holds {Volume(litres)} of {Volume(tank.CapacityLitres)} {unit} ({NumberWords.Percent(tank.FillShare)}).";
        if (tank.LitresPerDay is > 0 and { } daily)
        {
            string rate = $"At {NumberWords.Brief(Units.VolumeFor(daily, units))} {unit} a day, the mean of the last days,";
            double days = (tank.CapacityLitres - litres) / daily;
            sentence += days switch
            {
                <= 0 => "",
                < 1.5 => $" {rate} it is full in about a day.",
                > 60 => "",
                _ => $" {rate} it is full in about {NumberWords.Figures(days)} days.",
            };
        }

        return urgency == Urgency.NeedsVisit
            ? $"{sentence} Its water weighs about {NumberWords.Figures(Units.WaterMassFor(litres, units))} {Units.MassUnit(units)}: pump it out, do not lift."
            : sentence;

        string Volume(double amount) => NumberWords.Brief(Units.VolumeFor(amount, units));
    }

    private static string Silence(NotReportingEvidence silence, Reader reader)
    {
        string every = TimeWords.Length(TimeSpan.FromSeconds(silence.ReportEverySeconds));
        return silence.LastHeard is { } heard
            ? $"The last report came {TimeWords.When(heard, reader.Now, reader.Zone)}; one is expected every {every}."
            : $"No report has ever come; one is expected every {every}.";
    }

    // «Drain-plug wrench» becomes «drain-plug wrench»; «UV lamp» stays.
    private static string InSentence(string name) =>
        name.Length > 1 && char.IsUpper(name[0]) && !char.IsUpper(name[1]) ? char.ToLowerInvariant(name[0]) + name[1..] : name;
}
