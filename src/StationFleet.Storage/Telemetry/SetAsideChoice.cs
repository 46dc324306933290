using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>Which of the records set aside somebody means.</summary>
/// <param name="Stations">Those of these stations.</param>
/// <param name="Kind">Those of this kind; null means all kinds.</param>
/// <param name="Id">This one only; null means all.</param>
public sealed record SetAsideChoice(IReadOnlyCollection<StationId> Stations, SetAsideKind? Kind = null, long? Id = null)
{
    /// <summary>So many records of a kind a station keeps, the newest ones; older ones are dropped and counted.</summary>
    public const int MostOfAKind = 500;

    internal const string Condition = "station_id IN (SELECT value FROM json_each(?1)) AND (?2 IS NULL OR kind = ?2) AND (?3 IS NULL OR id = ?3)";
}

/// <summary>A record that could not be counted.</summary>
/// <param name="Id">Its number; never given to another.</param>
/// <param name="Station">Whose it is.</param>
/// <param name="ReportId">The report that brought it first.</param>
/// <param name="Received">When it came first.</param>
/// <param name="LastReceived">When it came last.</param>
/// <param name="Times">How often it came.</param>
/// <param name="Index">Its place in its pack.</param>
/// <param name="Kind">The reason as a code.</param>
/// <param name="Reason">The reason in a sentence.</param>
/// <param name="Raw">The record as JSON text.</param>
public sealed record SetAsideRow(
    long Id, StationId Station, long ReportId, DateTimeOffset Received, DateTimeOffset LastReceived, int Times, int Index,
    SetAsideKind Kind, string Reason, string Raw);

/// <summary>The records of one kind of one station.</summary>
/// <param name="Station">Whose they are.</param>
/// <param name="Kind">Their kind.</param>
/// <param name="Count">How many are kept.</param>
/// <param name="First">When the oldest of them came first.</param>
/// <param name="Last">When one of them came last.</param>
/// <param name="Dropped">How many older ones were dropped to make room.</param>
public sealed record SetAsideGroup(StationId Station, SetAsideKind Kind, int Count, DateTimeOffset First, DateTimeOffset Last, long Dropped);
