using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service;

/// <summary>What an agency made of one rule's cautions and steps.</summary>
/// <param name="Steps">Its own steps instead of the default ones; null: the defaults.</param>
/// <param name="AddedCautions">Its own cautions, after the default ones.</param>
/// <param name="RemovedCautions">Default cautions that it left out, in their words: one that is worded anew comes back.</param>
public sealed record GuidanceEdit(IReadOnlyList<string>? Steps, IReadOnlyList<string> AddedCautions, IReadOnlyList<string> RemovedCautions)
{
    /// <summary>No edit: the defaults as they are.</summary>
    public static GuidanceEdit None { get; } = new(null, [], []);

    /// <summary>Whether the defaults stand as they are.</summary>
    public bool IsDefault => Steps is null && AddedCautions.Count == 0 && RemovedCautions.Count == 0;
}

/// <summary>The cautions and steps of every rule as the agency has them: the defaults with its edits.</summary>
/// <param name="edits">The edit of each rule that has one.</param>
public sealed class Guidance(IReadOnlyDictionary<Rule, GuidanceEdit> edits)
{
    /// <summary>Without any edit.</summary>
    public static Guidance Defaults { get; } = new(new Dictionary<Rule, GuidanceEdit>());

    /// <summary>The edit of a rule.</summary>
    /// <param name="rule">The rule.</param>
    public GuidanceEdit EditOf(Rule rule) => edits.GetValueOrDefault(rule, GuidanceEdit.None);

    /// <summary>The cautions of a rule, the defaults first.</summary>
    /// <param name="rule">The rule.</param>
    public IReadOnlyList<string> CautionsFor(Rule rule)
    {
        GuidanceEdit edit = EditOf(rule);
        return [.. Cautions.For(rule).Except(edit.RemovedCautions), .. edit.AddedCautions];
    }

    /// <summary>The steps of a rule, in order.</summary>
    /// <param name="rule">The rule.</param>
    public IReadOnlyList<string> StepsFor(Rule rule) => EditOf(rule).Steps ?? Checklists.For(rule);
}
