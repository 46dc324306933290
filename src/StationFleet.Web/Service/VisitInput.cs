using System.Globalization;

namespace StationFleet.Web.Service;

/// <summary>The fields of the ticket form just as they were typed, so that a wrong one comes back as it was.</summary>
public sealed record VisitInput
{
    public const int LongestNote = 4000;
    private const string PartField = "Part-";

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

    /// <summary>See <see cref="Phone.KeptOnPhone"/>.</summary>
    public string KeptSeconds { get; init; } = "";

    /// <summary>The number of the disposal site that it was taken to.</summary>
    public string Site { get; init; } = "";

    /// <summary>Whose hours: a <see cref="Domain.Service.HoursKind"/>, or empty.</summary>
    public string Hours { get; init; } = "";

    public string Award { get; init; } = "";

    /// <summary>Where the parts came from: a <see cref="Domain.Service.PartPlace"/>.</summary>
    public string PartsFrom { get; init; } = "";

    /// <summary>How many were used of each part, by its number.</summary>
    public IReadOnlyDictionary<int, string> Parts { get; init; } = new Dictionary<int, string>();

    /// <summary>Other tickets to close with this one, as the form wrote them: number, version, newest event shown.</summary>
    public IReadOnlyList<string> Also { get; init; } = [];

    public bool IsEmpty =>
        Steps.Count == 0 && Site.Length == 0 && Award.Trim().Length == 0 && Parts.Values.All(used => used.Trim().Length == 0) && PumpedOut.Trim().Length == 0 && Dip.Trim().Length == 0 && Minutes.Trim().Length == 0 && Found.Trim().Length == 0;

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
        KeptSeconds = Text(form, Phone.KeptOnPhone.Field),
        Site = Text(form, nameof(Site)),
        Hours = Text(form, nameof(Hours)),
        Award = Text(form, nameof(Award)),
        PartsFrom = Text(form, nameof(PartsFrom)),
        Parts = form.Keys.Where(key => key.StartsWith(PartField, StringComparison.Ordinal))
            .Select(key => (Part: int.TryParse(key[PartField.Length..], NumberStyles.None, CultureInfo.InvariantCulture, out int part) ? part : 0, Used: Text(form, key)))
            .Where(pair => pair.Part > 0).ToDictionary(pair => pair.Part, pair => pair.Used),
        Also = [.. form[nameof(Also)].OfType<string>()],
    };

    /// <summary>The field of a part's count.</summary>
    public static string FieldOf(int part) => string.Create(CultureInfo.InvariantCulture, $"{PartField}{part}");

    private static string Text(IFormCollection form, string name) => form[name].ToString();
}
