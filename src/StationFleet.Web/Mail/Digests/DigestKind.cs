using StationFleet.Storage.Accounts;
using StationFleet.Storage.Mail;
using StationFleet.Web.Duty;

namespace StationFleet.Web.Mail.Digests;

/// <summary>The mails that come by the calendar; names stand in links that people keep.</summary>
public enum DigestKind
{
    Morning,
    Weekly,
}

/// <summary>Who gets which, unless they chose otherwise.</summary>
internal static class DigestKinds
{
    /// <summary>Usually the morning mail is for those who drive or send others, the weekly one for the supervisor.</summary>
    public static bool IsUsual(DigestKind kind, IReadOnlySet<string> roles) => kind switch
    {
        DigestKind.Morning => roles.Contains(FleetRoles.Technician) || roles.Contains(FleetRoles.Biologist),
        _ => roles.Contains(FleetRoles.Supervisor),
    };

    public static bool? Chosen(DigestKind kind, MailChoices? choices) => kind == DigestKind.Morning ? choices?.Morning : choices?.Weekly;

    public static bool IsWanted(DigestKind kind, CrewMember member) => Chosen(kind, member.Choices) ?? IsUsual(kind, member.Roles);

    public static string Name(DigestKind kind) => kind == DigestKind.Morning ? "morning mail" : "weekly mail";
}
