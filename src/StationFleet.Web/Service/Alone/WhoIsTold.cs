using StationFleet.Storage.Accounts;
using StationFleet.Web.Duty;

namespace StationFleet.Web.Service.Alone;

/// <summary>Who is told when somebody does not come back: the supervisors, else the biologists, else the administrators.</summary>
internal static class WhoIsTold
{
    public static IReadOnlyList<CrewMember> Of(Crew crew, string person)
    {
        CrewMember? away = crew.Members.FirstOrDefault(member => member.Id == person);
        string[] roles = [FleetRoles.Supervisor, FleetRoles.Biologist, FleetRoles.Administrator];
        return roles
            .Select(role => crew.With(role).Where(member => member.Id != person && (member.Agency is null || away?.Agency is null || member.Agency == away.Agency)).ToArray())
            .FirstOrDefault(members => members.Length > 0) ?? [];
    }
}
