using System.Text.Json.Serialization;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Power;

namespace StationFleet.Domain.Watch;

/// <summary>What a rule says is wrong, or about to be.</summary>
/// <param name="Rule">The rule that says so.</param>
/// <param name="Part">The part it is about: a tool's slug, or empty for the whole station.</param>
/// <param name="Urgency">What it asks of people.</param>
/// <param name="Since">When the problem came on.</param>
/// <param name="Evidence">The numbers behind it, in SI.</param>
public sealed record Problem(Rule Rule, string Part, Urgency Urgency, DateTimeOffset Since, Evidence Evidence);

/// <summary>The numbers behind a problem, in SI; stored as JSON, put into words only when shown.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(IdleToolEvidence), "idle-tool")]
[JsonDerivedType(typeof(StationUnusedEvidence), "station-unused")]
[JsonDerivedType(typeof(FallingUseEvidence), "falling-use")]
[JsonDerivedType(typeof(RunawayCounterEvidence), "runaway-counter")]
[JsonDerivedType(typeof(TankFillingEvidence), "tank-filling")]
[JsonDerivedType(typeof(TankDipEvidence), "tank-dip")]
[JsonDerivedType(typeof(TankStillEvidence), "tank-still")]
[JsonDerivedType(typeof(TankJumpingEvidence), "tank-jumping")]
[JsonDerivedType(typeof(TankCreepEvidence), "tank-creep")]
[JsonDerivedType(typeof(LowChargeEvidence), "low-charge")]
[JsonDerivedType(typeof(ColdBatteryEvidence), "cold-battery")]
[JsonDerivedType(typeof(WeakPanelEvidence), "weak-panel")]
[JsonDerivedType(typeof(NoPanelEvidence), "no-panel")]
[JsonDerivedType(typeof(ExtraLoadEvidence), "extra-load")]
[JsonDerivedType(typeof(AgedBatteryEvidence), "aged-battery")]
[JsonDerivedType(typeof(NotReportingEvidence), "not-reporting")]
[JsonDerivedType(typeof(ClockWrongEvidence), "clock-wrong")]
[JsonDerivedType(typeof(MovedEvidence), "moved")]
[JsonDerivedType(typeof(SampleDueEvidence), "sample-due")]
[JsonDerivedType(typeof(NewFindEvidence), "new-find")]
[JsonDerivedType(typeof(PublicReportEvidence), "public-report")]
public abstract record Evidence;

/// <summary>A tool passed over while others were used.</summary>
/// <param name="ToolName">The name the agency gave the tool.</param>
/// <param name="LastUse">Its last known use; null when none was ever seen.</param>
/// <param name="WatchedSince">From when its silence is counted: its last use, or when it came into service.</param>
/// <param name="PassedOver">Use sessions that passed it over since then.</param>
/// <param name="OneIn">A healthy tool is passed over so often once in so many times; null when its plain limit of days is over.</param>
/// <param name="LimitDays">Its plain limit [d]; null when the statistics speak.</param>
public sealed record IdleToolEvidence(
    string ToolName, DateTimeOffset? LastUse, DateTimeOffset WatchedSince, int PassedOver, double? OneIn, double? LimitDays) : Evidence;

/// <summary>A station that nobody uses, while reports come in.</summary>
/// <param name="Since">Since when.</param>
/// <param name="ExpectedSessions">Use sessions that were expected since then.</param>
public sealed record StationUnusedEvidence(DateTimeOffset Since, double ExpectedSessions) : Evidence;

/// <summary>A tool that fewer sessions pick up than used to.</summary>
/// <param name="ToolName">The name the agency gave the tool.</param>
/// <param name="UsualShare">The share of sessions that used to pick it up, 0 to 1.</param>
/// <param name="Days">For how many days of use it has been falling.</param>
public sealed record FallingUseEvidence(string ToolName, double UsualShare, int Days) : Evidence;

/// <summary>A running total that rises in a way that no person causes.</summary>
/// <param name="ToolName">The name the agency gave the tool.</param>
/// <param name="Uses">The uses that it counted…</param>
/// <param name="From">…since then…</param>
/// <param name="To">…up to then.</param>
public sealed record RunawayCounterEvidence(string ToolName, double Uses, DateTimeOffset From, DateTimeOffset To) : Evidence;

/// <summary>A station whose clock is wrong.</summary>
/// <param name="AheadSeconds">How far it is ahead [s]; negative: behind.</param>
/// <param name="SeenAt">The newest report that showed it.</param>
public sealed record ClockWrongEvidence(double AheadSeconds, DateTimeOffset SeenAt) : Evidence;

/// <summary>A station that stands elsewhere than at its access.</summary>
/// <param name="AccessName">The access where it should stand.</param>
/// <param name="AwayMetres">How far from there [m].</param>
/// <param name="LatitudeDeg">Its last known latitude [°].</param>
/// <param name="LongitudeDeg">Its last known longitude [°].</param>
/// <param name="Since">Since when.</param>
/// <param name="SeenAt">When it was last seen there.</param>
public sealed record MovedEvidence(
    string AccessName, double AwayMetres, double LatitudeDeg, double LongitudeDeg, DateTimeOffset Since, DateTimeOffset SeenAt) : Evidence;

/// <summary>A waste tank near its capacity.</summary>
/// <param name="FillShare">Share of capacity, 0 to 1.</param>
/// <param name="CapacityLitres">The tank's capacity [L].</param>
/// <param name="LitresPerDay">Mean inflow of the last days [L/d]; null when not known.</param>
/// <param name="Full">When it will be full; null when that is not known, or not within 70 days.</param>
public sealed record TankFillingEvidence(double FillShare, double CapacityLitres, double? LitresPerDay, ForecastWindow? Full = null) : Evidence;

/// <summary>A tank's sensor that stands still while water should come in.</summary>
/// <param name="Since">Since when.</param>
/// <param name="Litres">What it says [L].</param>
/// <param name="MissedLitres">What the uses since then should have added [L].</param>
public sealed record TankStillEvidence(DateTimeOffset Since, double Litres, double MissedLitres) : Evidence;

/// <summary>A tank's sensor that jumps to other levels and back.</summary>
/// <param name="Jumps">How often of late: about the last nine hours.</param>
/// <param name="LastAt">When it last did.</param>
public sealed record TankJumpingEvidence(int Jumps, DateTimeOffset LastAt) : Evidence;

/// <summary>A tank whose level changes at night, when nobody uses anything.</summary>
/// <param name="LitresPerDay">By how much [L/d]; negative: it falls.</param>
/// <param name="Nights">In so many nights.</param>
public sealed record TankCreepEvidence(double LitresPerDay, int Nights) : Evidence;

/// <summary>A dip before a pump-out that is not what the sensor said.</summary>
/// <param name="At">When the tank was emptied.</param>
/// <param name="DipLitres">What the person measured [L].</param>
/// <param name="SensorLitres">What the sensor said [L].</param>
/// <param name="CapacityLitres">The tank's capacity [L].</param>
public sealed record TankDipEvidence(DateTimeOffset At, double DipLitres, double SensorLitres, double CapacityLitres) : Evidence;

/// <summary>A battery near empty, or on its way there.</summary>
/// <param name="ChargeShare">State of charge, 0 to 1.</param>
/// <param name="LimitShare">The limit it fell under, or will, 0 to 1.</param>
/// <param name="Source">How the charge is known.</param>
/// <param name="Forecast">When it will be under the limit; null when that is not known.</param>
public sealed record LowChargeEvidence(
    double ChargeShare, double LimitShare, ChargeSource Source = ChargeSource.Reported, ChargeForecast? Forecast = null) : Evidence;

/// <summary>A battery that the cold endangers.</summary>
/// <param name="Chemistry">What it is made of.</param>
/// <param name="TempC">Its temperature, or that of the air [°C].</param>
/// <param name="IsOfAir">Whether it is that of the air.</param>
/// <param name="ChargeShare">State of charge, 0 to 1; null when not known.</param>
/// <param name="FreezesC">Where its acid freezes [°C]; null for lithium iron phosphate.</param>
public sealed record ColdBatteryEvidence(
    BatteryChemistry Chemistry, double TempC, bool IsOfAir, double? ChargeShare, double? FreezesC) : Evidence;

/// <summary>A panel that gives less than it used to.</summary>
/// <param name="Ratio">What it gives of late, as a share of what it used to give.</param>
/// <param name="TestedOn">The last day on which it was asked for all it had.</param>
/// <param name="OthersRatio">The same of the stations around, their median; null when too few are known.</param>
/// <param name="Others">How many they are.</param>
public sealed record WeakPanelEvidence(double Ratio, DateOnly TestedOn, double? OthersRatio, int? Others) : Evidence;

/// <summary>A panel that gives nothing in the sun.</summary>
/// <param name="Since">Since when.</param>
/// <param name="ChargeShare">State of charge, 0 to 1; null when not known.</param>
public sealed record NoPanelEvidence(DateTimeOffset Since, double? ChargeShare) : Evidence;

/// <summary>A station that draws more at night than it used to.</summary>
/// <param name="Watts">What it draws [W].</param>
/// <param name="UsualWatts">What it used to draw [W].</param>
public sealed record ExtraLoadEvidence(double Watts, double UsualWatts) : Evidence;

/// <summary>A battery that holds less than it is rated for.</summary>
/// <param name="HoldsWattHours">What it holds, by the fall of its charge at night [Wh].</param>
/// <param name="RatedWattHours">What it is rated for [Wh].</param>
public sealed record AgedBatteryEvidence(double HoldsWattHours, double RatedWattHours) : Evidence;

/// <summary>A station that has fallen silent.</summary>
/// <param name="LastHeard">When its last report arrived; null when none ever did.</param>
/// <param name="ReportEverySeconds">How often it usually reports [s].</param>
/// <param name="LongestSeconds">Its longest silence of the last two months before this one [s]; null when it had none of an hour.</param>
/// <param name="Others">Codes of stations that fell silent at the same time; null when it is alone.</param>
public sealed record NotReportingEvidence(
    DateTimeOffset? LastHeard, double ReportEverySeconds, double? LongestSeconds = null, string? Others = null) : Evidence;

/// <summary>A planned sample that must be taken.</summary>
/// <param name="From">The first local day on which it can be taken.</param>
/// <param name="Due">The last local day that was planned.</param>
/// <param name="By">Until when it must be taken: the end of that day, or before the tank is emptied.</param>
/// <param name="Grabs">How many grabs; null: not said.</param>
/// <param name="LitresPerGrab">How much each of them holds [L]; null: not said.</param>
/// <param name="Tank">The tank that is to be emptied before the planned day; null when it is not.</param>
public sealed record SampleDueEvidence(
    DateOnly From, DateOnly Due, DateTimeOffset By, int? Grabs, double? LitresPerGrab, ExpectedEmptying? Tank = null) : Evidence;

/// <summary>A tank that will be emptied before a sample was planned.</summary>
/// <param name="FillShare">Share of capacity, 0 to 1.</param>
/// <param name="Full">When it will be full; null when that is not known.</param>
/// <param name="IsAskedFor">Whether somebody has to pump it out now.</param>
public sealed record ExpectedEmptying(double FillShare, ForecastWindow? Full, bool IsAskedFor);

/// <summary>An organism in tank water that is not known from the water beside the station.</summary>
/// <param name="Taxon">What people call it.</param>
/// <param name="Water">The water.</param>
/// <param name="Sample">The code of the sample that held it.</param>
/// <param name="Deadline">Until when the agency's rules want it reported; null when they name no time.</param>
/// <param name="Contact">Whom they want told; null when that is not set up.</param>
public sealed record NewFindEvidence(string Taxon, string Water, string Sample, DateTimeOffset? Deadline, string? Contact) : Evidence;

/// <summary>Something that a boater reported through the public page, and a person confirmed.</summary>
/// <param name="ToolName">The name the agency gave the tool; empty speaks of the whole station.</param>
/// <param name="Trouble">What is wrong.</param>
/// <param name="Words">The boater's own words; may be empty.</param>
/// <param name="ReportedAt">When it was reported.</param>
public sealed record PublicReportEvidence(string ToolName, Trouble Trouble, string Words, DateTimeOffset ReportedAt) : Evidence;
