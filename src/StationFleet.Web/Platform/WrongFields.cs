using System.Diagnostics.CodeAnalysis;

namespace StationFleet.Web.Platform;

/// <summary>What is wrong with a form, one sentence for a field, so that it can stand beside that field.</summary>
[SuppressMessage("Naming", "CA1710", Justification = "Reads as what it is: the wrong fields.")]
public sealed class WrongFields : Dictionary<string, string>
{
    public WrongFields()
        : base(StringComparer.Ordinal)
    {
    }

    public static WrongFields None { get; } = [];

    /// <summary>The sentence for a field; null when nothing is wrong with it.</summary>
    public string? For(string field) => this.GetValueOrDefault(field);

    /// <summary>Notes what is wrong with a field; the first sentence stays, since the later ones often follow from it.</summary>
    public void Note(string field, string sentence) => TryAdd(field, sentence);
}
