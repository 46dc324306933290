using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Trials;

/// <summary>A station's setup as it was known at each instant of a trial: the fleet file's, and what people said since.</summary>
public sealed class TrialSetup
{
    private readonly Func<DateTimeOffset, StationSetup> _planned;
    private readonly List<QuietPeriod> _told = [];
    private readonly List<UtcInterval> _visits = [];
    private readonly List<TicketFinding> _findings = [];

    private TrialSetup(Func<DateTimeOffset, StationSetup> planned, IReadOnlyList<DateTimeOffset> changes) => (_planned, Changes) = (planned, changes);

    /// <summary>When the planned setup changes, in order.</summary>
    public IReadOnlyList<DateTimeOffset> Changes { get; }

    /// <summary>A setup that stays as it is.</summary>
    /// <param name="setup">The setup.</param>
    public static TrialSetup Fixed(StationSetup setup) => new(_ => setup, []);

    /// <summary>A setup that changes at known instants.</summary>
    /// <param name="planned">The setup at an instant.</param>
    /// <param name="changes">When it becomes another one, in order.</param>
    public static TrialSetup Changing(Func<DateTimeOffset, StationSetup> planned, IReadOnlyList<DateTimeOffset> changes) => new(planned, changes);

    /// <summary>A station of a fleet file: tools, tanks and batteries change when the file says.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="code">The station's code.</param>
    public static TrialSetup Of(FleetFile fleet, string code)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        FleetStation station = fleet.Stations.First(station => station.Code == code);
        IEnumerable<DateTimeOffset?> changes = station.Tools.SelectMany(tool => new[] { tool.Installed, tool.Removed })
            .Concat(station.Tanks.Select(tank => tank.From))
            .Concat(station.Power.Select(power => power.From))
            .Concat(station.Placements.Select(placement => (DateTimeOffset?)placement.From));
        return new TrialSetup(at => Known(fleet.SetupOf(code, at), station), [.. changes.OfType<DateTimeOffset>().Distinct().Order()]);
    }

    /// <summary>The setup as it is known at an instant.</summary>
    /// <param name="at">The instant.</param>
    public StationSetup At(DateTimeOffset at)
    {
        StationSetup planned = _planned(at);
        return planned with { Quiet = [.. planned.Quiet, .. _told], Service = new ServiceLog([.. _visits], [.. _findings]) };
    }

    /// <summary>Takes in what people did.</summary>
    /// <param name="happening">The event.</param>
    /// <returns>Whether the setup is another one now.</returns>
    internal bool Take(TrialEvent happening)
    {
        switch (happening)
        {
            case TrialEvent.NotRequired quiet:
                _told.Add(new QuietPeriod(quiet.Reason, quiet.At, quiet.Until));
                return true;

            case TrialEvent.Visited visited when visited.Until > visited.At:
                _visits.Add(new UtcInterval(visited.At, visited.Until));
                return true;

            case TrialEvent.TicketClosed closed:
                if (closed.Visit is { } visit)
                {
                    _visits.Add(ServiceLog.VisitEndingAt(visit.At, visit.Minutes));
                }

                if (closed.Outcome is TicketOutcome.Fixed or TicketOutcome.NothingWrong)
                {
                    _findings.Add(new TicketFinding(closed.Rule, closed.Part, closed.At, closed.Outcome == TicketOutcome.NothingWrong));
                }

                return true;

            default:
                return false;
        }
    }

    // A file that names no placement at all knows nothing of where the station stands: it does not say that it is on the road.
    private static StationSetup Known(StationSetup setup, FleetStation station) => station.Placements.Count > 0
        ? setup
        : setup with { Quiet = [.. setup.Quiet.Where(quiet => quiet.Reason != QuietReason.InTransit)] };
}
