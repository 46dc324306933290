using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;

namespace StationFleet.Web.Boaters;

/// <summary>Bounds the problem reports of one network address and those at one access. Addresses are kept in memory for an hour, nowhere else.</summary>
internal sealed class PublicReportLimiter(IOptions<PublicPageOptions> options) : IDisposable
{
    private const int SharedPrefixBytes = 8; // a household's or a phone's share of IPv6 addresses

    private readonly PartitionedRateLimiter<IPAddress> _addresses = PartitionedRateLimiter.Create<IPAddress, string>(
        address => RateLimitPartition.GetFixedWindowLimiter(Network(address), _ => AnHour(options.Value.ReportsPerAddress)));

    private readonly PartitionedRateLimiter<AccessId> _accesses = PartitionedRateLimiter.Create<AccessId, int>(
        access => RateLimitPartition.GetFixedWindowLimiter(access.Value, _ => AnHour(options.Value.ReportsPerAccess)));

    /// <summary>Takes one report from the shares of its sender and its access.</summary>
    /// <param name="address">Who sends it; null when the server does not know.</param>
    /// <param name="access">Where it is about.</param>
    /// <returns>Whether it may be taken.</returns>
    public bool MayReport(IPAddress? address, AccessId access)
    {
        using RateLimitLease sender = _addresses.AttemptAcquire(address ?? IPAddress.None);
        if (!sender.IsAcquired)
        {
            return false;
        }

        using RateLimitLease place = _accesses.AttemptAcquire(access);
        return place.IsAcquired;
    }

    public void Dispose()
    {
        _addresses.Dispose();
        _accesses.Dispose();
    }

    private static FixedWindowRateLimiterOptions AnHour(int most) => new() { PermitLimit = most, Window = TimeSpan.FromHours(1), QueueLimit = 0 };

    private static string Network(IPAddress address) =>
        address.IsIPv4MappedToIPv6 ? address.MapToIPv4().ToString()
        : address.AddressFamily == AddressFamily.InterNetworkV6 ? Convert.ToHexString(address.GetAddressBytes().AsSpan(0, SharedPrefixBytes))
        : address.ToString();
}
