namespace StationFleet.Web.Service;

/// <summary>The fields of the ticket form just as they were typed, so that a wrong one comes back as it was.</summary>
public sealed record VisitInput
{
    public const int LongestNote = 4000;

    /// <summary>Checklist steps that were ticked, in their own words.</summary>
    public IReadOnlyList<string> Steps { get; init; } = [];

    /// <summary>In the reader's unit of volume.</summary>
    public string PumpedOut { get; init; } = "";

    /// <summary>What the stick said before the emptying, in the unit of <see cref="DipUnit"/>.</summary>
    public string Dip { get; init; } = "";

    /// <summary>The short name of a unit of volume or height.</summary>
    public string DipUnit { get; init; } = "";

    public string Minutes { get; init; } = "";

    public string Found { get; init; } = "";

    public string Outcome { get; init; } = "";

    /// <summary>Local time of the access.</summary>
    public string DoneAt { get; init; } = "";

    /// <summary>What the form showed there at first; unchanged means «when the form is sent».</summary>
    public string DoneAtShown { get; init; } = "";

    public bool IsEmpty =>
        Steps.Count == 0 && PumpedOut.Trim().Length == 0 && Dip.Trim().Length == 0 && Minutes.Trim().Length == 0 && Found.Trim().Length == 0;

    public static VisitInput From(IFormCollection form) => new()
    {
        Steps = [.. form[nameof(Steps)].OfType<string>()],
        PumpedOut = Text(form, nameof(PumpedOut)),
        Dip = Text(form, nameof(Dip)),
        DipUnit = Text(form, nameof(DipUnit)),
        Minutes = Text(form, nameof(Minutes)),
        Found = Text(form, nameof(Found)).ReplaceLineEndings("\n"),
        Outcome = Text(form, nameof(Outcome)),
        DoneAt = Text(form, nameof(DoneAt)),
        DoneAtShown = Text(form, nameof(DoneAtShown)),
    };

    private static string Text(IFormCollection form, string name) => form[name].ToString();
}
