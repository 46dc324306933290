namespace StationFleet.Domain.Telemetry;

/// <summary>The head of a text that somebody else sent, for a sentence or a log.</summary>
internal static class Excerpt
{
    public static string Of(string text, int length)
    {
        if (text.Length <= length)
        {
            return text;
        }

        // Half a surrogate pair is no text: JSON writers throw on it.
        int end = char.IsHighSurrogate(text[length - 1]) ? length - 1 : length;
        return text[..end] + "…";
    }
}
