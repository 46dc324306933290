namespace StationFleet.Domain.Seasons;

/// <summary>A season's figures and all that a report says beside them: what page, document, workbook, tables and text are made of.</summary>
/// <param name="Summary">The figures.</param>
public sealed record SeasonReport(SeasonSummary Summary)
{
    /// <summary>What the stations were chosen by, such as «award JBWD-2026-02»; empty when all are counted.</summary>
    public string Only { get; init; } = "";

    /// <summary>The same stations on the same days of the year before; null when none existed then.</summary>
    public SeasonSummary? Before { get; init; }

    /// <summary>The figures beside those of the year before; empty without them.</summary>
    public IReadOnlyList<FigureChange> Changes { get; init; } = [];

    /// <summary>What is to be known of each station's data, a sentence each; stations without any are missing.</summary>
    public IReadOnlyList<StationNotes> Quality { get; init; } = [];

    /// <summary>Organisms in the collected water, as far as they may be told; empty when no water was sampled for any.</summary>
    public IReadOnlyList<SeasonRemoval> Removals { get; init; } = [];

    /// <summary>Says which stations' figures stand in the reports of several awards; empty when none do.</summary>
    public string Shared { get; init; } = "";

    /// <summary>The season's name and days, and what the stations were chosen by.</summary>
    public string Title => SeasonWords.Title(Summary.Season) + (Only.Length > 0 ? $", {Only}" : "");

    /// <summary>Sentences that say the main figures, and that some are jointly funded.</summary>
    /// <param name="units">The reader's units.</param>
    public IReadOnlyList<string> Lead(Quantities.UnitSystem units) =>
        [SeasonWords.Headline(Summary, units), SeasonWords.Backing(Summary), .. Shared.Length > 0 ? [Shared] : Array.Empty<string>()];
}

/// <summary>What is to be known of one station's data.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="Sentences">Gaps, records set aside, uncertain and assumed values.</param>
public sealed record StationNotes(string Station, IReadOnlyList<string> Sentences);
