using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Duty;

/// <summary>Whom a ticket calls next.</summary>
internal static class WhomToCall
{
    // Nobody comes on duty for longer than this: then the roster is no answer.
    private static readonly TimeSpan LongestWait = TimeSpan.FromHours(24);

    /// <summary>What is known of a ticket that nobody has taken.</summary>
    /// <param name="Crew">Those who may see its station.</param>
    /// <param name="Access">Where the station stood; null: nowhere.</param>
    /// <param name="Zone">The access's time zone.</param>
    /// <param name="Told">Who was told of this raising or reopening already, the first first.</param>
    /// <param name="LastTold">When the last of them was told, or when a later snooze ended; null: nobody was.</param>
    /// <param name="NoneArrived">Whether no mail to any of them arrived.</param>
    /// <param name="IsProblemOn">Whether the problem is still on.</param>
    /// <param name="IsForBiologists">Whether it is no work for whoever is on duty: a find, which the biologists have to verify.</param>
    internal sealed record Case(
        Crew Crew, AccessId? Access, TimeZoneInfo Zone, IReadOnlyList<string> Told, DateTimeOffset? LastTold, bool NoneArrived, bool IsProblemOn, bool IsForBiologists);

    /// <summary>Those to tell now; empty when nobody is to be told yet, or any more.</summary>
    public static IReadOnlyList<CrewMember> Now(Case about, DateTimeOffset now, DutyOptions options)
    {
        IReadOnlyList<CrewMember> next = about.IsForBiologists ? Biologists(about) : about.LastTold is null ? First(about, now) : IsOverdue(about, now, options) ? Next(about, now) : [];
        return [.. next.Where(member => member.Quiet.Leave(now, about.Zone) <= now)];
    }

    // All of them at once, and nobody later: the find's own deadline follows.
    private static CrewMember[] Biologists(Case about)
    {
        IReadOnlyList<CrewMember> biologists = about.Crew.With(FleetRoles.Biologist);
        return [.. (biologists.Count > 0 ? biologists : about.Crew.With(FleetRoles.Administrator)).Where(member => !about.Told.Contains(member.Id))];
    }

    // The first on duty alone. Who is not on the roster is only asked when nobody is.
    private static IReadOnlyList<CrewMember> First(Case about, DateTimeOffset now)
    {
        if (OnDuty(about, now) is [var first, ..])
        {
            return [first];
        }

        if (about.Crew.Roster.NextOnDuty(about.Access, now, now + LongestWait, about.Zone) is not null)
        {
            return [];
        }

        string[] roles = [FleetRoles.Technician, FleetRoles.Biologist, FleetRoles.Administrator];
        return roles.Select(about.Crew.With).FirstOrDefault(members => members.Count > 0) ?? [];
    }

    private static CrewMember[] Next(Case about, DateTimeOffset now)
    {
        IReadOnlyList<CrewMember>[] steps = [OnDuty(about, now), about.Crew.With(FleetRoles.Biologist), about.Crew.With(FleetRoles.Supervisor)];
        return steps
            .Select(members => members.Where(member => !about.Told.Contains(member.Id)).ToArray())
            .FirstOrDefault(members => members.Length > 0) ?? [];
    }

    private static bool IsOverdue(Case about, DateTimeOffset now, DutyOptions options) =>
        about.IsProblemOn
        && (about.NoneArrived
            || (options.EscalateAfterHours > 0
                && options.Working.After(about.LastTold!.Value, TimeSpan.FromHours(options.EscalateAfterHours), about.Zone) <= now));

    private static IReadOnlyList<CrewMember> OnDuty(Case about, DateTimeOffset now) =>
        about.Crew.Named(about.Crew.Roster.OnDuty(about.Access, now, about.Zone));
}
