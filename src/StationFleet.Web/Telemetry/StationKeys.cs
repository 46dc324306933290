using System.Collections.Concurrent;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>
/// The keys by which stations send: made, looked up, revoked. Two may be valid at once, so that a controller can be given a new
/// one before the old one ends. A look-up is remembered for a minute.
/// </summary>
internal sealed partial class StationKeys(
    IDbContextFactory<FleetDbContext> databases, FleetClock clock, TimeProvider system, ILogger<StationKeys> logger)
{
    private const int MostValid = 2;

    private static readonly TimeSpan Remembered = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan UseNotedEvery = TimeSpan.FromHours(1);

    private readonly ConcurrentDictionary<string, Entry> _entries = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<int, DateTimeOffset> _usesNoted = new();

    /// <summary>A valid key's station.</summary>
    internal sealed record Holder(int KeyId, string Prefix, StationId Station, StationContext Context);

    /// <summary>What a key that came with a request is.</summary>
    internal abstract record Lookup
    {
        private Lookup()
        {
        }

        internal sealed record Valid(Holder Holder) : Lookup;

        /// <summary>Its head is a station's, but it is revoked, or the rest of it is wrong.</summary>
        internal sealed record Refused(StationId Station, string Prefix, DateTimeOffset? Revoked) : Lookup;

        /// <summary>It is no key at all, or nobody's.</summary>
        internal sealed record Unknown : Lookup;
    }

    internal abstract record MakeOutcome
    {
        private MakeOutcome()
        {
        }

        /// <summary>The key, to be shown once: only its hash is kept.</summary>
        internal sealed record Made(int KeyId, string Key, string Prefix) : MakeOutcome;

        /// <summary>Two keys are valid; one must be revoked first.</summary>
        internal sealed record TwoAlready : MakeOutcome;
    }

    private sealed record Entry(Holder Holder, byte[] Hash, DateTimeOffset? Revoked, long Loaded);

    public Task<MakeOutcome> MakeAsync(StationId station, CancellationToken cancel) => databases.WriteAsync<MakeOutcome>(
        async db =>
        {
            if (await db.StationKeys.CountAsync(key => key.StationId == station && key.Revoked == null, cancel) >= MostValid)
            {
                return new MakeOutcome.TwoAlready();
            }

            string text = StationKeyText.New();
            StationKey key = new()
            {
                StationId = station,
                Prefix = StationKeyText.PrefixOf(text)!,
                Hash = Convert.ToHexStringLower(StationKeyText.HashOf(text)),
                Created = clock.GetUtcNow(),
            };
            db.StationKeys.Add(key);
            await db.SaveChangesAsync(cancel);
            return new MakeOutcome.Made(key.Id, text, key.Prefix);
        },
        cancel);

    /// <summary>Ends a key at once.</summary>
    /// <returns>Whether there was such a key, still valid.</returns>
    public async Task<bool> RevokeAsync(int keyId, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        int revoked = await db.StationKeys
            .Where(key => key.Id == keyId && key.Revoked == null)
            .ExecuteUpdateAsync(set => set.SetProperty(key => key.Revoked, now), cancel);
        Forget();
        return revoked == 1;
    }

    /// <summary>Looks everything up anew: after a key was revoked or a station's code, start or clock was edited.</summary>
    public void Forget() => _entries.Clear();

    /// <summary>Whose a key is, and whether it is valid.</summary>
    public async Task<Lookup> FindAsync(string? text, CancellationToken cancel)
    {
        if (StationKeyText.PrefixOf(text) is not { } prefix)
        {
            return new Lookup.Unknown();
        }

        Entry? entry = _entries.TryGetValue(prefix, out Entry? known) && system.GetElapsedTime(known.Loaded) < Remembered
            ? known
            : await LoadAsync(prefix, cancel);
        if (entry is null)
        {
            return new Lookup.Unknown();
        }

        bool isRight = CryptographicOperations.FixedTimeEquals(StationKeyText.HashOf(text!), entry.Hash);
        return isRight && entry.Revoked is null
            ? new Lookup.Valid(entry.Holder)
            : new Lookup.Refused(entry.Holder.Station, prefix, isRight ? entry.Revoked : null);
    }

    /// <summary>Notes that a key was used, at most once an hour; a database that is busy just then is no fault.</summary>
    public async Task NoteUseAsync(Holder holder, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        if (_usesNoted.TryGetValue(holder.KeyId, out DateTimeOffset noted) && now - noted < UseNotedEvery)
        {
            return;
        }

        _usesNoted[holder.KeyId] = now;
        try
        {
            await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
            await db.StationKeys
                .Where(key => key.Id == holder.KeyId)
                .ExecuteUpdateAsync(set => set.SetProperty(key => key.LastUsed, now), cancel);
        }
        catch (SqliteException failure)
        {
            LogUseNotNoted(failure, holder.Prefix);
        }
    }

    private async Task<Entry?> LoadAsync(string prefix, CancellationToken cancel)
    {
        long loaded = system.GetTimestamp();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var row = await db.StationKeys
            .Where(key => key.Prefix == prefix)
            .Join(
                db.Stations,
                key => key.StationId,
                station => station.Id,
                (key, station) => new { key.Id, key.Hash, key.Revoked, key.StationId, station.Code, station.Created, station.HasNoClock })
            .SingleOrDefaultAsync(cancel);
        if (row is null)
        {
            _entries.TryRemove(prefix, out _);
            return null;
        }

        Holder holder = new(row.Id, prefix, row.StationId, new StationContext(row.Code, row.Created, row.HasNoClock));
        return _entries[prefix] = new Entry(holder, Convert.FromHexString(row.Hash), row.Revoked, loaded);
    }

    [LoggerMessage(2101, LogLevel.Warning, "The use of station key {Prefix} could not be noted.")]
    private partial void LogUseNotNoted(Exception failure, string prefix);
}
