using System.Threading.RateLimiting;

namespace StationFleet.Web.Telemetry;

/// <summary>
/// Bounds the reports of each key: 120 a minute, and 600 at once, so that a station that was silent for days may catch up. It counts
/// valid keys only: a stranger who knows the head of a key cannot use up its share.
/// </summary>
internal sealed class ReportLimiter : IDisposable
{
    private const int Burst = 600;
    private const int PerSecond = 2;

    private readonly PartitionedRateLimiter<StationKeys.Holder> _buckets = PartitionedRateLimiter.Create<StationKeys.Holder, string>(
        holder => RateLimitPartition.GetTokenBucketLimiter(holder.Prefix, _ => new TokenBucketRateLimiterOptions
        {
            TokenLimit = Burst,
            TokensPerPeriod = PerSecond,
            ReplenishmentPeriod = TimeSpan.FromSeconds(1),
            QueueLimit = 0,
        }));

    /// <summary>Takes one report from the key's share.</summary>
    /// <returns>Null when it may be read; else how long to wait.</returns>
    public TimeSpan? WaitFor(StationKeys.Holder holder)
    {
        using RateLimitLease lease = _buckets.AttemptAcquire(holder);
        return lease.IsAcquired ? null
            : lease.TryGetMetadata(MetadataName.RetryAfter, out TimeSpan wait) ? wait
            : TimeSpan.FromSeconds(1);
    }

    public void Dispose() => _buckets.Dispose();
}
