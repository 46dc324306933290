using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;

namespace StationFleet.Storage.Platform;

/// <summary>An instant as Unix milliseconds in UTC; finer parts are cut off.</summary>
public sealed class UtcInstantConverter()
    : ValueConverter<DateTimeOffset, long>(at => at.ToUnixTimeMilliseconds(), ms => DateTimeOffset.FromUnixTimeMilliseconds(ms));

/// <summary>A length of time as whole seconds.</summary>
public sealed class SecondsConverter() : ValueConverter<TimeSpan, long>(span => (long)span.TotalSeconds, s => TimeSpan.FromSeconds(s));

public sealed class AgencyIdConverter() : ValueConverter<AgencyId, int>(id => id.Value, value => new AgencyId(value));

public sealed class AccessIdConverter() : ValueConverter<AccessId, int>(id => id.Value, value => new AccessId(value));

public sealed class StationIdConverter() : ValueConverter<StationId, int>(id => id.Value, value => new StationId(value));

public sealed class PlacementIdConverter() : ValueConverter<PlacementId, int>(id => id.Value, value => new PlacementId(value));

public sealed class TicketIdConverter() : ValueConverter<TicketId, int>(id => id.Value, value => new TicketId(value));

public sealed class AwardIdConverter() : ValueConverter<AwardId, int>(id => id.Value, value => new AwardId(value));

public sealed class EquipmentIdConverter() : ValueConverter<EquipmentId, int>(id => id.Value, value => new EquipmentId(value));

/// <summary>Money as whole hundredths.</summary>
public sealed class MoneyConverter() : ValueConverter<Money, long>(money => money.Cents, cents => new Money(cents));

/// <summary>A share as hundredths of a percent.</summary>
public sealed class PercentageConverter() : ValueConverter<Percentage, int>(share => share.Hundredths, hundredths => new Percentage(hundredths));

public sealed class SampleIdConverter() : ValueConverter<SampleId, int>(id => id.Value, value => new SampleId(value));

public sealed class CountShiftIdConverter() : ValueConverter<CountShiftId, int>(id => id.Value, value => new CountShiftId(value));

public sealed class SamplePlanIdConverter() : ValueConverter<SamplePlanId, int>(id => id.Value, value => new SamplePlanId(value));

public sealed class TaxonIdConverter() : ValueConverter<TaxonId, int>(id => id.Value, value => new TaxonId(value));

public sealed class FindIdConverter() : ValueConverter<FindId, int>(id => id.Value, value => new FindId(value));
