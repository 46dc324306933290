using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Watch;

/// <summary>The time that limits are tried on.</summary>
/// <param name="From">Its beginning.</param>
/// <param name="To">Its end.</param>
/// <param name="IsShortened">Raw measurements begin only within the season.</param>
/// <param name="IsSoFar">The season is still running.</param>
public sealed record TriedSpan(DateTimeOffset From, DateTimeOffset To, bool IsShortened, bool IsSoFar);

/// <summary>Shows one station's stored reports to two trials at once, one with today's limits and one with others.</summary>
public sealed class RunTrial(WhatPeopleDidReader people, MeasurementReader measurements, TimeProvider system, IOptions<WatchOptions> watch)
{
    // How the tools were used in the season before is known at the beginning.
    private static readonly TimeSpan KnownBefore = TimeSpan.FromDays(365);
    private static readonly TimeSpan TellEvery = TimeSpan.FromMilliseconds(150);
    private const int ReportsAtOnce = 250;

    public async Task<(StationTrial Today, StationTrial Others)> HandleAsync(
        StationSetupHistory history, RuleSettings limits, TriedSpan span, IProgress<TryRules.Progress> progress, CancellationToken cancel)
    {
        StationId station = history.Station.Id;
        WhatPeopleDid did = await people.ReadAsync(station, span.From - KnownBefore, span.To, cancel);
        StationTrial[] trials = [Begin(history.Always.Rules), Begin(limits)];
        Teller teller = new(progress, system, span);
        List<WatchReport> waiting = [];
        long last = await measurements.LastReportBeforeAsync(station, span.From - KnownBefore, cancel);
        while (true)
        {
            IReadOnlyList<ReceivedReport> reports = await measurements.NewReportsAsync(station, last, ReportsAtOnce, cancel);
            waiting.AddRange(reports.Where(report => report.Received <= span.To).Select(report => report.ToWatch()));
            bool isEnd = reports.Count < ReportsAtOnce || reports[^1].Received > span.To;
            DateTimeOffset until = isEnd ? span.To : reports.Max(report => report.Received);
            if (until > span.From)
            {
                foreach (StationTrial trial in trials)
                {
                    cancel.ThrowIfCancellationRequested();
                    trial.Run(waiting, until);
                }

                waiting.Clear();
            }

            if (isEnd)
            {
                return (trials[0], trials[1]);
            }

            last = reports[^1].Id;
            teller.Tell(until);
        }

        StationTrial Begin(RuleSettings rules) => new(
            TrialSetup.Changing(at => history.At(at) with { Rules = rules }, history.Changes), span.From, watch.Value.Every, people: did);
    }

    /// <summary>Tells how far a trial is, not too often: each word of it is drawn on a page.</summary>
    private sealed class Teller(IProgress<TryRules.Progress> progress, TimeProvider system, TriedSpan span)
    {
        private long? _seasonBegan;
        private long? _told;

        public void Tell(DateTimeOffset until)
        {
            bool isInSeason = until > span.From;
            _seasonBegan ??= isInSeason ? system.GetTimestamp() : null;
            if (_told is { } told && system.GetElapsedTime(told) < TellEvery)
            {
                return;
            }

            _told = system.GetTimestamp();
            double share = isInSeason ? (until - span.From) / (span.To - span.From) : 0;
            TimeSpan? left = share > 0 && system.GetElapsedTime(_seasonBegan!.Value) is { Ticks: > 0 } elapsed ? elapsed * ((1 - share) / share) : null;
            progress.Report(new TryRules.Progress(share, left));
        }
    }
}
