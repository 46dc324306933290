using System.Globalization;
using StationFleet.Domain.Boaters;
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
        Rule.StationUnused => "Station unused",
        Rule.FallingUse => "Falling use",
        Rule.RunawayCounter => "Runaway counter",
        Rule.TankFilling => "Tank filling",
        Rule.TankSensor => "Tank sensor",
        Rule.LowCharge => "Low charge",
        Rule.WeakPanel => "Weak panel",
        Rule.ExtraLoad => "Extra load",
        Rule.AgedBattery => "Aged battery",
        Rule.NotReporting => "Not reporting",
        Rule.ClockWrong => "Clock wrong",
        Rule.Moved => "Moved without a placement",
        Rule.SampleDue => "Sample due",
        Rule.NewFind => "New find",
        Rule.PublicReport => "Reported by the public",
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "There is no such rule."),
    };

    /// <summary>What a person has to do about it, as a heading without a full stop.</summary>
    /// <param name="evidence">The numbers behind the problem.</param>
    public static string Title(Evidence evidence) => evidence switch
    {
        IdleToolEvidence idle => $"Find out why the {InSentence(idle.ToolName)} is not used",
        StationUnusedEvidence => "Find out why nobody uses the station",
        FallingUseEvidence falling => $"Look at the {InSentence(falling.ToolName)}: it is used less",
        RunawayCounterEvidence runaway => $"Find out why the {InSentence(runaway.ToolName)} counts by itself",
        TankFillingEvidence => "Pump out the tank",
        TankDipEvidence => "Find out why dip and tank sensor differ",
        TankStillEvidence => "Look at the tank's sensor: it stands still",
        TankJumpingEvidence => "Look at the tank's sensor: it jumps",
        TankCreepEvidence { LitresPerDay: < 0 } => "Look for a leak in the tank, or a drifting sensor",
        TankCreepEvidence => "Find out why the tank's level rises at night",
        LowChargeEvidence => "Find out why the battery is low",
        ColdBatteryEvidence { FreezesC: not null } => "Keep the battery from freezing",
        ColdBatteryEvidence => "Keep the battery from being charged in the cold",
        WeakPanelEvidence => "Look at the panel: it gives less than it used to",
        NoPanelEvidence => "Find out why nothing comes from the panel",
        ExtraLoadEvidence => "Find out what draws power at night",
        AgedBatteryEvidence => "Find out what the battery still holds",
        NotReportingEvidence { Others: not null } => "Find out why several stations are silent",
        NotReportingEvidence => "Find out why the station is silent",
        ClockWrongEvidence => "Set the controller's clock",
        MovedEvidence => "Find the station, or write down its move",
        SampleDueEvidence { Tank: not null } => "Take the planned sample before the pump-out",
        SampleDueEvidence => "Take the planned sample",
        NewFindEvidence => "Verify a presumptive find, keep the specimen",
        PublicReportEvidence report => $"Look at the {(report.ToolName.Length == 0 ? "station" : InSentence(report.ToolName))}: a boater reported it",
        _ => throw new ArgumentOutOfRangeException(nameof(evidence), evidence, "There are no words for this evidence."),
    };

    /// <summary>Why, with the numbers.</summary>
    /// <param name="evidence">The numbers behind the problem.</param>
    /// <param name="urgency">What it asks of people: who has to go is told what to beware of.</param>
    /// <param name="reader">For whom.</param>
    public static string Sentence(Evidence evidence, Urgency urgency, Reader reader) => evidence switch
    {
        IdleToolEvidence idle => Idle(idle, reader),
        StationUnusedEvidence unused => Unused(unused, reader),
        FallingUseEvidence falling =>
            $"Clearly fewer than the usual {NumberWords.Percent(falling.UsualShare)} of use sessions have picked up the {InSentence(falling.ToolName)} "
            + $"for {TimeWords.Length(TimeSpan.FromDays(falling.Days))}. It may work only half, or habits have changed.",
        RunawayCounterEvidence runaway =>
            $"The {InSentence(runaway.ToolName)} counted {NumberWords.Figures(runaway.Uses)} uses within {TimeWords.Length(runaway.To - runaway.From)} "
            + $"up to {TimeWords.When(runaway.To, reader.Now, reader.Zone)}, without any other tool. A stuck switch or a loose wire counts like that.",
        TankFillingEvidence tank => TankSentences.Filling(tank, urgency, reader),
        TankStillEvidence still => TankSentences.Still(still, reader),
        TankJumpingEvidence jumping => TankSentences.Jumping(jumping, reader),
        TankCreepEvidence creep => TankSentences.Creep(creep, reader.Units),
        TankDipEvidence dip => TankSentences.Dip(dip, reader),
        LowChargeEvidence charge => PowerSentences.Charge(charge, reader),
        ColdBatteryEvidence cold => PowerSentences.Cold(cold, reader.Units),
        WeakPanelEvidence weak => PowerSentences.Weak(weak, reader),
        NoPanelEvidence none => PowerSentences.None(none, reader),
        ExtraLoadEvidence load => PowerSentences.Load(load),
        AgedBatteryEvidence aged => PowerSentences.Aged(aged),
        NotReportingEvidence silence => Silence(silence, reader),
        ClockWrongEvidence clock =>
            $"Its clock is {TimeWords.Length(TimeSpan.FromSeconds(Math.Abs(clock.AheadSeconds)))} {(clock.AheadSeconds > 0 ? "fast" : "slow")}: "
            + (clock.AheadSeconds > 0
                ? "what it reports lies in the future and is set aside."
                : "what it reports is put too early."),
        MovedEvidence moved =>
            $"It stands {Distance(moved.AwayMetres, reader.Units)} from {moved.AccessName} since {TimeWords.When(moved.Since, reader.Now, reader.Zone)}, "
            + $"last seen {TimeWords.When(moved.SeenAt, reader.Now, reader.Zone)} at {Position(moved.LatitudeDeg, "N", "S")}, {Position(moved.LongitudeDeg, "E", "W")}.",
        SampleDueEvidence due => SampleSentences.Due(due, reader),
        NewFindEvidence find => Find(find, reader),
        PublicReportEvidence report =>
            $"Reported by the public {TimeWords.When(report.ReportedAt, reader.Now, reader.Zone)}. {PublicReportWords.Sentence(report.ToolName, report.Trouble, report.Words)}",
        _ => throw new ArgumentOutOfRangeException(nameof(evidence), evidence, "There are no words for this evidence."),
    };

    /// <summary>When something is expected: «between Thursday and Saturday (80 %), most likely Friday afternoon».</summary>
    /// <param name="window">The window.</param>
    /// <param name="reader">For whom.</param>
    public static string When(ForecastWindow window, Reader reader)
    {
        ArgumentNullException.ThrowIfNull(window);
        return TankSentences.When(window, reader);
    }

    private static string Find(NewFindEvidence find, Reader reader)
    {
        string rules = (find.Contact, find.Deadline) switch
        {
            ({ } contact, { } deadline) => $": tell {contact} by {TimeWords.When(deadline, reader.Now, reader.Zone)}",
            ({ } contact, null) => $": tell {contact}",
            (null, { } deadline) => $": report by {TimeWords.When(deadline, reader.Now, reader.Zone)}",
            _ => "",
        };
        return $"Presumptive find in tank water, sample {find.Sample}: {InSentence(find.Taxon)}, not known from {find.Water}. "
            + $"Origin unknown; verify, keep the specimen; your reporting rules apply{rules}. Nothing of it is public before it is released.";
    }

    private static string Idle(IdleToolEvidence idle, Reader reader)
    {
        string tool = InSentence(idle.ToolName);
        string since = idle.LastUse == idle.WatchedSince
            ? $"since {TimeWords.When(idle.WatchedSince, reader.Now, reader.Zone)}"
            : $"since {TimeWords.When(idle.WatchedSince, reader.Now, reader.Zone)}, when counting began";
        if (idle.OneIn is not { } oneIn)
        {
            string limit = idle.LimitDays is { } days ? $"; its limit is {TimeWords.Length(TimeSpan.FromDays(days))}" : "";
            return $"The {tool} has not been used {since}{limit}.";
        }

        string sessions = idle.PassedOver == 1 ? "one use session" : $"{NumberWords.Figures(idle.PassedOver)} use sessions";
        return $"The {tool} has been passed over by {sessions} {since}. {HowOdd(oneIn)}";
    }

    private static string Unused(StationUnusedEvidence unused, Reader reader) =>
        $"No use since {TimeWords.When(unused.Since, reader.Now, reader.Zone)}; about {NumberWords.Figures(unused.ExpectedSessions)} use sessions were expected, "
        + "and reports come in. Breaker? Gate? Access closed?";

    private static string HowOdd(double oneIn) => oneIn switch
    {
        >= 1_000_000 => "That never happens here (less than 1 in 1,000,000).",
        >= 1_000 => $"That almost never happens here (1 in {NumberWords.Figures(oneIn)}).",
        _ => $"That seldom happens here (1 in {NumberWords.Figures(oneIn)}).",
    };

    private static string Distance(double metres, UnitSystem units) => (units, metres) switch
    {
        (UnitSystem.UsCustomary, < 300) => $"{NumberWords.Figures(metres / Units.MetresPerFoot)} ft",
        (UnitSystem.UsCustomary, _) => $"{NumberWords.Brief(metres / Units.MetresPerMile)} miles",
        (_, < 1000) => $"{NumberWords.Figures(metres)} m",
        _ => $"{NumberWords.Brief(metres / 1000)} km",
    };

    private static string Position(double degrees, string positive, string negative) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(degrees):0.00000}° {(degrees < 0 ? negative : positive)}");

    private static string Silence(NotReportingEvidence silence, Reader reader)
    {
        string every = TimeWords.Length(TimeSpan.FromSeconds(silence.ReportEverySeconds));
        string longest = silence.LongestSeconds is { } seconds
            ? $", and its longest silence of the last two months was {TimeWords.Length(TimeSpan.FromSeconds(seconds))}"
            : "";
        string heard = silence.LastHeard is { } last
            ? $"The last report came {TimeWords.When(last, reader.Now, reader.Zone)}; one is expected every {every}{longest}."
            : $"No report has ever come; one is expected every {every}.";
        return silence.Others is { } others
            ? $"{heard} {others} fell silent at the same time: look at what they share first, the radio link or the power at the site."
            : heard;
    }

    // «Drain-plug wrench» becomes «drain-plug wrench»; «UV lamp» stays.
    private static string InSentence(string name) =>
        name.Length > 1 && char.IsUpper(name[0]) && !char.IsUpper(name[1]) ? char.ToLowerInvariant(name[0]) + name[1..] : name;
}
