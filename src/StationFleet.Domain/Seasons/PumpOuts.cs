namespace StationFleet.Domain.Seasons;

/// <summary>Who knows of a pump-out.</summary>
public enum PumpOutWitness
{
    /// <summary>The station's sensor saw the level fall.</summary>
    Sensor,

    /// <summary>A person wrote it down.</summary>
    Person,

    /// <summary>Both.</summary>
    Both,
}

/// <summary>One emptying of a tank, however often it was recorded.</summary>
/// <param name="At">When.</param>
/// <param name="Litres">How much [L].</param>
/// <param name="Witness">Who knows of it.</param>
/// <param name="UncertaintyLitres">Its standard uncertainty [L]; null when not known.</param>
public sealed record CountedPumpOut(DateTimeOffset At, double Litres, PumpOutWitness Witness, double? UncertaintyLitres = null);

/// <summary>Counts pump-outs that both a sensor and a person may have recorded.</summary>
public static class PumpOuts
{
    /// <summary>A sensor's and a person's record this close together tell of the same pump-out (our choice, no source).</summary>
    public static readonly TimeSpan SameWithin = TimeSpan.FromHours(6);

    /// <summary>Counts each emptying of one station's tank once.</summary>
    /// <param name="records">Records of one station, in any order.</param>
    /// <returns>
    /// In order of time. Where both recorded it, time and amount are the sensor's: it saw how far the level fell, while a
    /// person often writes the round capacity.
    /// </returns>
    public static IReadOnlyList<CountedPumpOut> Count(IEnumerable<PumpOutRecord> records)
    {
        ILookup<bool, PumpOutRecord> bySensor = records.OrderBy(record => record.At).ToLookup(record => record.SeenBySensor);
        List<PumpOutRecord> people = [.. bySensor[false]];
        List<CountedPumpOut> counted = [];
        foreach (PumpOutRecord seen in bySensor[true])
        {
            PumpOutRecord? same = people.Where(record => (record.At - seen.At).Duration() <= SameWithin)
                .MinBy(record => (record.At - seen.At).Duration());
            people.RemoveAll(record => ReferenceEquals(record, same));
            counted.Add(new CountedPumpOut(seen.At, seen.Litres, same is null ? PumpOutWitness.Sensor : PumpOutWitness.Both, seen.UncertaintyLitres));
        }

        counted.AddRange(people.Select(record => new CountedPumpOut(record.At, record.Litres, PumpOutWitness.Person)));
        return [.. counted.OrderBy(pumpOut => pumpOut.At)];
    }
}
