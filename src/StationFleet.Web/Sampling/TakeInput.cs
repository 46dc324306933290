using StationFleet.Web.Service.Phone;

namespace StationFleet.Web.Sampling;

/// <summary>The fields of the form at the tank just as they were typed, so that a wrong one comes back as it was.</summary>
internal sealed record TakeInput
{
    /// <summary>Rows for grabs on the form.</summary>
    public const int GrabRows = 5;

    /// <summary>The grabs came from one dip: then they are one grab.</summary>
    public const string OneDip = "one";

    /// <summary>Each grab is from a dip of its own.</summary>
    public const string OwnDips = "own";

    public string Station { get; init; } = "";

    /// <summary>Litres of each grab; empty where none was taken.</summary>
    public IReadOnlyList<string> Grabs { get; init; } = [.. Enumerable.Repeat("", GrabRows)];

    public string Dips { get; init; } = "";

    public string Mesh { get; init; } = "";

    /// <summary>Litres of clean water in the blank.</summary>
    public string Blank { get; init; } = "";

    public bool HasPieces { get; init; }

    /// <summary>In the reader's unit.</summary>
    public string Temperature { get; init; } = "";

    /// <summary>In the reader's unit of volume.</summary>
    public string Left { get; init; } = "";

    public string Preservation { get; init; } = nameof(Domain.Sampling.Preservation.None);

    public string Note { get; init; } = "";

    /// <summary>Local time of the access.</summary>
    public string TakenAt { get; init; } = "";

    /// <summary>What the form showed there at first; unchanged means «when the form is sent».</summary>
    public string TakenAtShown { get; init; } = "";

    /// <summary>See <see cref="KeptOnPhone"/>.</summary>
    public string KeptSeconds { get; init; } = "";

    public static TakeInput From(IFormCollection form) => new()
    {
        Station = Text(form, nameof(Station)),
        Grabs = [.. Enumerable.Range(0, GrabRows).Select(row => Text(form, GrabField(row)))],
        Dips = Text(form, nameof(Dips)),
        Mesh = Text(form, nameof(Mesh)),
        Blank = Text(form, nameof(Blank)),
        HasPieces = Text(form, nameof(HasPieces)).Length > 0,
        Temperature = Text(form, nameof(Temperature)),
        Left = Text(form, nameof(Left)),
        Preservation = Text(form, nameof(Preservation)),
        Note = Text(form, nameof(Note)).ReplaceLineEndings("\n"),
        TakenAt = Text(form, nameof(TakenAt)),
        TakenAtShown = Text(form, nameof(TakenAtShown)),
        KeptSeconds = Text(form, KeptOnPhone.Field),
    };

    /// <summary>The field of a grab, from 0 on: GrabA, GrabB…</summary>
    public static string GrabField(int row) => $"Grab{(char)('A' + row)}";

    private static string Text(IFormCollection form, string name) => form[name].ToString();
}
