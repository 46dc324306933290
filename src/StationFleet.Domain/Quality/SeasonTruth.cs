using StationFleet.Domain.Simulation;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>What really was, day by day, in a season that is being tried.</summary>
internal sealed class SeasonTruth(double capacityLitres, TimeZoneInfo zone, RuleSettings rules)
{
    private const int ShortLeadDays = 3;
    private const double WorthEmptying = 0.25;
    private const double WorthTheDrive = 0.60;
    private const int ChargeLeadDays = 2;
    private const double Little = 0.02;

    private readonly List<DayTruth> _days = [];

    private readonly List<double> _inflowWith = [];

    public List<DateTimeOffset> Boats { get; } = [];

    public List<SimulatedPumpOut> PumpOuts { get; } = [];

    public void Add(DayTruth day)
    {
        _days.Add(day);
        Boats.AddRange(day.BoatsAt);
        PumpOuts.AddRange(day.PumpOuts);
        foreach (double litres in day.BoatLitres)
        {
            _inflowWith.Add((_inflowWith.Count > 0 ? _inflowWith[^1] : 0) + litres);
        }
    }

    /// <summary>Whether the true tank or battery makes a notice true, as far as is known by now.</summary>
    public bool Explains(Rule rule, DateTimeOffset at)
    {
        int today = LocalCalendar.DateOf(at, zone).DayNumber - _days[0].Date.DayNumber;
        return rule switch
        {
            Rule.TankFilling => LitresAt(at) + InflowTo(at.AddDays(ShortLeadDays)) - InflowTo(at) >= (rules.TankRaiseShare - Little) * capacityLitres
                || LitresAt(at) + InflowTo(at.AddDays(1)) - InflowTo(at) >= WorthTheDrive * capacityLitres,
            Rule.LowCharge => Around(today - 1, today + ChargeLeadDays).Any(day => day.LowestChargeShare <= rules.ChargeRaiseShare + Little),

            // An empty battery cuts the tools off, and then the reports.
            Rule.NotReporting or Rule.IdleTool or Rule.StationUnused => Around(today - 1, today).Any(day => day.LowestChargeShare < 0.06),
            _ => false,
        };
    }

    /// <summary>Whether somebody who came for the tank would have emptied it.</summary>
    public bool IsWorthEmptying(DateTimeOffset at) => LitresAt(at) >= WorthEmptying * capacityLitres;

    /// <summary>What came in from the beginning to an instant, with what ran over: what each boat brought [L].</summary>
    public double InflowTo(DateTimeOffset at)
    {
        int boat = CountTo(at);
        return boat == 0 ? 0 : _inflowWith[boat - 1];
    }

    /// <summary>What the tank held at an instant, as if nothing had run over since it was emptied [L].</summary>
    public double LitresAt(DateTimeOffset at) => InflowTo(at) - InflowTo(EmptiedBefore(at));

    /// <summary>When it was last emptied before an instant; the beginning when it never was.</summary>
    public DateTimeOffset EmptiedBefore(DateTimeOffset at) => PumpOuts.LastOrDefault(pumpOut => pumpOut.At <= at)?.At ?? DateTimeOffset.MinValue;

    /// <summary>When the tank would have been full if nobody emptied it after an instant; null: not in this season.</summary>
    public DateTimeOffset? FullAfter(DateTimeOffset at)
    {
        double full = InflowTo(at) + capacityLitres - LitresAt(at);
        int boat = _inflowWith.FindIndex(inflow => inflow >= full);
        return boat < 0 ? null : Boats[boat] > at ? Boats[boat] : at;
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

    private IEnumerable<DayTruth> Around(int first, int last) => _days.Skip(Math.Max(0, first)).Take(Math.Max(0, last - Math.Max(0, first) + 1));
}
