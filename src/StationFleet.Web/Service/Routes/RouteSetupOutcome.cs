using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>What came of a change to what days on the road are reckoned with; its small operations share it.</summary>
internal abstract record RouteSetupOutcome
{
    private RouteSetupOutcome()
    {
    }

    internal sealed record Saved : RouteSetupOutcome;

    internal sealed record Refused(WrongFields Wrong) : RouteSetupOutcome;

    internal sealed record NotAllowed : RouteSetupOutcome;
}
