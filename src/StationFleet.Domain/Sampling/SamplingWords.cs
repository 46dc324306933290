namespace StationFleet.Domain.Sampling;

/// <summary>What pages, labels and files call things of samples.</summary>
public static class SamplingWords
{
    /// <summary>What is in the jar.</summary>
    /// <param name="kind">The kind.</param>
    public static string Of(SampleKind kind) => kind switch
    {
        SampleKind.Grab => "grab",
        SampleKind.Blank => "field blank",
        SampleKind.Pieces => "plants and snails",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such kind."),
    };

    /// <summary>The stage; empty when stages are not told apart.</summary>
    /// <param name="stage">The stage.</param>
    public static string Of(LifeStage stage) => stage switch
    {
        LifeStage.Any => "",
        LifeStage.Veliger => "veliger",
        LifeStage.Juvenile => "settled juvenile",
        LifeStage.Adult => "adult",
        LifeStage.RestingEgg => "resting egg",
        _ => throw new ArgumentOutOfRangeException(nameof(stage), stage, "There is no such stage."),
    };

    /// <summary>How sure the identification is.</summary>
    /// <param name="confidence">The confidence.</param>
    public static string Of(Confidence confidence) => confidence switch
    {
        Confidence.Certain => "certain",
        Confidence.Probable => "probable",
        Confidence.Tentative => "tentative",
        _ => throw new ArgumentOutOfRangeException(nameof(confidence), confidence, "There is no such confidence."),
    };

    /// <summary>What keeps the sample.</summary>
    /// <param name="preservation">The means.</param>
    public static string Of(Preservation preservation) => preservation switch
    {
        Preservation.None => "nothing",
        Preservation.Cooled => "cooling",
        Preservation.Ethanol => "ethanol",
        Preservation.BufferedFormalin => "buffered formalin",
        Preservation.Lugol => "Lugol’s iodine",
        Preservation.Other => "other, see note",
        _ => throw new ArgumentOutOfRangeException(nameof(preservation), preservation, "There is no such means."),
    };

    /// <summary>How far a find is verified.</summary>
    /// <param name="state">The state.</param>
    public static string Of(FindState state) => state switch
    {
        FindState.Presumptive => "presumptive",
        FindState.Confirmed => "confirmed, not to be told yet",
        FindState.Releasable => "may be told",
        FindState.NotConfirmed => "not confirmed",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "There is no such state."),
    };

    /// <summary>A taxon with its stage: «Quagga mussel, veliger».</summary>
    /// <param name="taxon">The taxon's name for people.</param>
    /// <param name="stage">The stage.</param>
    public static string Named(string taxon, LifeStage stage) => stage == LifeStage.Any ? taxon : $"{taxon}, {Of(stage)}";
}
