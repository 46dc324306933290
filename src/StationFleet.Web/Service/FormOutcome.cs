using StationFleet.Web.Platform;

namespace StationFleet.Web.Service;

/// <summary>What came of a small form of the Office that can only be saved, refused or not allowed.</summary>
internal abstract record FormOutcome
{
    private FormOutcome()
    {
    }

    internal sealed record Saved : FormOutcome;

    internal sealed record Refused(WrongFields Wrong) : FormOutcome;

    internal sealed record NotAllowed : FormOutcome;
}
