using StationFleet.Domain.Simulation;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>What really was, day by day, in a season that is being tried.</summary>
internal sealed class SeasonTruth(double capacityLitres, TimeZoneInfo zone, RuleSettings rules)
{
    private const int ShortLeadDays = 3;
    private const int ChargeLeadDays = 2;
    private const double Little = 0.02;

    private readonly List<DayTruth> _days = [];

    public List<DateTimeOffset> Boats { get; } = [];

    public void Add(DayTruth day)
    {
        _days.Add(day);
        Boats.AddRange(day.BoatsAt);
    }

    /// <summary>Whether the true tank or battery makes a notice true, as far as is known by now.</summary>
    public bool Explains(Rule rule, DateTimeOffset at)
    {
        int today = LocalCalendar.DateOf(at, zone).DayNumber - _days[0].Date.DayNumber;
        return rule switch
        {
            Rule.TankFilling => Around(today - 1, today + ShortLeadDays).Any(day => HighestLitres(day) >= (rules.TankRaiseShare - Little) * capacityLitres),
            Rule.LowCharge => Around(today - 1, today + ChargeLeadDays).Any(day => day.LowestChargeShare <= rules.ChargeRaiseShare + Little),

            // An empty battery cuts the tools off, and then the reports.
            Rule.NotReporting or Rule.IdleTool or Rule.StationUnused => Around(today - 1, today).Any(day => day.LowestChargeShare < 0.06),
            _ => false,
        };
    }

    /// <summary>When the tank reached its capacity for the first time since it was emptied.</summary>
    public IEnumerable<DateTimeOffset> FullAt()
    {
        DateTimeOffset emptied = DateTimeOffset.MinValue;
        DateTimeOffset counted = DateTimeOffset.MinValue;
        foreach (DayTruth day in _days)
        {
            if (day.FullAt is { } full && counted <= emptied)
            {
                counted = full;
                yield return full;
            }

            emptied = day.PumpOuts.Count > 0 ? day.PumpOuts[^1].At : emptied;
        }
    }

    /// <summary>Boats in a stretch of time.</summary>
    public int BoatsBetween(DateTimeOffset from, DateTimeOffset to) => CountTo(to) - CountTo(from);

    private int CountTo(DateTimeOffset at) => Boats.BinarySearch(at) is var place && place >= 0 ? place : ~place;

    private static double HighestLitres(DayTruth day) => day.PumpOuts.Select(pumpOut => pumpOut.Litres).Append(day.TankLitres).Max();

    private IEnumerable<DayTruth> Around(int first, int last) => _days.Skip(Math.Max(0, first)).Take(Math.Max(0, last - Math.Max(0, first) + 1));
}
