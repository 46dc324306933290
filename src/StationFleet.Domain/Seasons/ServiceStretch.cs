using StationFleet.Domain.Time;

namespace StationFleet.Domain.Seasons;

/// <summary>How a station was for a while.</summary>
public enum ServiceState
{
    /// <summary>It was required, and no ticket said that it was down.</summary>
    Up,

    /// <summary>It was required, and down.</summary>
    Down,

    /// <summary>It was not required: in transit, its access closed, laid up, or not there yet.</summary>
    NotRequired,
}

/// <summary>A stretch of the season in which a station was in one state.</summary>
/// <param name="Span">When.</param>
/// <param name="State">How it was.</param>
public sealed record ServiceStretch(UtcInterval Span, ServiceState State)
{
    /// <summary>Cuts the counted time into stretches.</summary>
    /// <param name="window">The counted time.</param>
    /// <param name="required">When the station was required.</param>
    /// <param name="failures">Its failures.</param>
    internal static IReadOnlyList<ServiceStretch> Of(UtcInterval window, IReadOnlyList<UtcInterval> required, IReadOnlyList<Failure> failures)
    {
        UtcInterval[] down =
        [
            .. failures.Where(failure => failure.Began < (failure.Restored ?? window.End))
                .Select(failure => new UtcInterval(failure.Began, failure.Restored ?? window.End)),
        ];
        DateTimeOffset[] cuts =
        [
            .. required.Concat(down).Select(window.Intersect).OfType<UtcInterval>().SelectMany(span => new[] { span.Start, span.End })
                .Append(window.Start).Append(window.End).Distinct().Order(),
        ];
        List<ServiceStretch> stretches = [];
        foreach ((DateTimeOffset start, DateTimeOffset end) in cuts.Zip(cuts.Skip(1)))
        {
            ServiceState state = !required.Any(span => span.Contains(start)) ? ServiceState.NotRequired
                : down.Any(span => span.Contains(start)) ? ServiceState.Down
                : ServiceState.Up;
            if (stretches.Count > 0 && stretches[^1].State == state)
            {
                stretches[^1] = new ServiceStretch(new UtcInterval(stretches[^1].Span.Start, end), state);
            }
            else
            {
                stretches.Add(new ServiceStretch(new UtcInterval(start, end), state));
            }
        }

        return stretches;
    }
}

/// <summary>What a tank held.</summary>
/// <param name="At">When.</param>
/// <param name="Litres">How much [L].</param>
public sealed record TankVolume(DateTimeOffset At, double Litres);
