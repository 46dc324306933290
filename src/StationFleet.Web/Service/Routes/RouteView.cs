using StationFleet.Domain.Fleet;

namespace StationFleet.Web.Service.Routes;

/// <summary>A day as its page shows it; public, since the page keeps it between prerendering and its circuit.</summary>
/// <param name="Headline">The page's first line.</param>
/// <param name="DayWords">«Wednesday 8 July».</param>
/// <param name="StartWords">Where and when the day starts.</param>
/// <param name="EndWords">Where and when it ends.</param>
/// <param name="SetWords">Who set this person's day, and what it holds; null when nobody did.</param>
/// <param name="Query">What was chosen, with nothing left open.</param>
/// <param name="HasYard">Whether there is a place to start from.</param>
public sealed record RouteView(
    string Headline, string DayWords, string StartWords, string EndWords, bool IsExact, IReadOnlyList<RouteView.Row> Stops, IReadOnlyList<RouteView.Left> Lefts,
    IReadOnlyList<RouteView.Choice> Bring, IReadOnlyList<string> InTransit, RouteDrawing? Drawing, string? SetWords, RouteQuery Query,
    IReadOnlyList<RouteView.Choice> People, IReadOnlyList<RouteView.Choice> Yards, IReadOnlyList<RouteView.Choice> More, bool HasYard, bool MaySet, bool MayChangeFleet)
{
    /// <param name="Text">The reason, in a sentence with its numbers.</param>
    public sealed record Reason(string Station, int? Ticket, string Text);

    /// <param name="Waits">Until when one waits there; null when one does not.</param>
    public sealed record Row(
        int Number, AccessId Access, string Place, string Driving, string Arrives, string? Waits, string Leaves, string There, bool IsUrgent,
        IReadOnlyList<Reason> Reasons, IReadOnlyList<string> Bring, IReadOnlyList<string> Cautions);

    /// <param name="Why">Why it is not on the way.</param>
    /// <param name="IsChosen">Left out by choice, or its access is closed: can be taken in.</param>
    public sealed record Left(AccessId Access, string Place, IReadOnlyList<Reason> Reasons, string Why, bool IsChosen);

    public sealed record Choice(string Value, string Label);
}
