using System.Text.Json.Serialization;

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
[JsonDerivedType(typeof(TankFillingEvidence), "tank-filling")]
[JsonDerivedType(typeof(LowChargeEvidence), "low-charge")]
[JsonDerivedType(typeof(NotReportingEvidence), "not-reporting")]
public abstract record Evidence;

/// <summary>A tool passed over while others were used.</summary>
/// <param name="ToolName">The name the agency gave the tool.</param>
/// <param name="LastUse">Its last known use; null when none was ever seen.</param>
/// <param name="WatchedSince">From when its silence is counted: its last use, or when the station came into service.</param>
/// <param name="OtherUses">Uses of the station's other tools since then.</param>
public sealed record IdleToolEvidence(string ToolName, DateTimeOffset? LastUse, DateTimeOffset WatchedSince, int OtherUses) : Evidence;

/// <summary>A waste tank near its capacity.</summary>
/// <param name="FillShare">Share of capacity, 0 to 1.</param>
/// <param name="CapacityLitres">The tank's capacity [L].</param>
/// <param name="LitresPerDay">Mean inflow of the last days [L/d]; null when not known.</param>
public sealed record TankFillingEvidence(double FillShare, double CapacityLitres, double? LitresPerDay) : Evidence;

/// <summary>A battery near empty.</summary>
/// <param name="ChargeShare">State of charge, 0 to 1.</param>
/// <param name="LimitShare">The limit it fell under, 0 to 1.</param>
public sealed record LowChargeEvidence(double ChargeShare, double LimitShare) : Evidence;

/// <summary>A station that has fallen silent.</summary>
/// <param name="LastHeard">When its last report arrived; null when none ever did.</param>
/// <param name="ReportEverySeconds">How often it is meant to report [s].</param>
public sealed record NotReportingEvidence(DateTimeOffset? LastHeard, double ReportEverySeconds) : Evidence;
