using System.Globalization;
using Microsoft.AspNetCore.Components;

namespace StationFleet.Web.Shell;

/// <summary>A field of a form: its label, what was typed, a hint, and the sentence that says what is wrong with it.</summary>
public abstract class FieldBase : ComponentBase
{
    private static int _made;

    [Parameter, EditorRequired] public string Label { get; set; } = "";

    /// <summary>The field's name in a posted form; not needed on interactive pages.</summary>
    [Parameter] public string? Name { get; set; }

    [Parameter] public string? Value { get; set; }

    [Parameter] public EventCallback<string> ValueChanged { get; set; }

    [Parameter] public string? Hint { get; set; }

    /// <summary>What is wrong with it; null when nothing is.</summary>
    [Parameter] public string? Wrong { get; set; }

    /// <summary>May be left empty: the label says so.</summary>
    [Parameter] public bool IsOptional { get; set; }

    [Parameter(CaptureUnmatchedValues = true)] public IReadOnlyDictionary<string, object>? More { get; set; }

    protected string Id { get; } = string.Create(CultureInfo.InvariantCulture, $"field-{Interlocked.Increment(ref _made)}");

    protected string? DescribedBy => (Hint, Wrong) switch
    {
        (null, null) => null,
        (_, null) => $"{Id}-hint",
        (null, _) => $"{Id}-wrong",
        _ => $"{Id}-wrong {Id}-hint",
    };

    protected string? Invalid => Wrong is null ? null : "true";

    protected Task ChangeAsync(ChangeEventArgs change) => ValueChanged.InvokeAsync(change?.Value?.ToString() ?? "");
}
