namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>Which measurement a column seems to hold.</summary>
public static class SeriesGuess
{
    /// <summary>The series that a heading most likely means, with the unit in brackets behind it.</summary>
    /// <param name="column">The column, from 0.</param>
    /// <param name="heading">Its heading.</param>
    /// <param name="known">Names that the station already measures; one of the same letters is taken.</param>
    public static SeriesColumn Of(int column, string heading, IReadOnlyCollection<string> known)
    {
        ArgumentNullException.ThrowIfNull(heading);
        ArgumentNullException.ThrowIfNull(known);
        string text = heading.Trim();
        string? unit = null;
        int open = text.LastIndexOfAny(['(', '[']);
        if (open > 0 && text[^1] is ')' or ']')
        {
            (text, unit) = (text[..open].Trim(), text[(open + 1)..^1].Trim());
        }

        string letters = Letters(text);
        string? same = known.Concat(MeasurementTable.All.Select(line => line.Pattern).Where(name => !name.Contains('{', StringComparison.Ordinal)))
            .FirstOrDefault(name => Letters(name) == letters || Letters(name.Replace("tools/", "", StringComparison.Ordinal)) == letters);
        return new SeriesColumn(column, same ?? Slug(text), unit is { Length: > 0 } ? unit : null);
    }

    private static string Letters(string text) => string.Concat(text.Where(char.IsAsciiLetterOrDigit)).ToLowerInvariant();

    private static string Slug(string text)
    {
        string slug = string.Concat(text.ToLowerInvariant().Select(c => char.IsAsciiLetterOrDigit(c) || c is '/' or '.' or '_' ? c : '-')).Trim('-', '/', '.', '_');
        while (slug.Contains("--", StringComparison.Ordinal))
        {
            slug = slug.Replace("--", "-", StringComparison.Ordinal);
        }

        return slug.Length > 0 ? slug : "unnamed";
    }
}
