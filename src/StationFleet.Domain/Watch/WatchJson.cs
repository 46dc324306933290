using System.Text.Json;
using System.Text.Json.Serialization;

namespace StationFleet.Domain.Watch;

/// <summary>How the watch's state and evidence are kept as JSON.</summary>
public static class WatchJson
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new JsonStringEnumConverter() },
    };

    /// <summary>Writes a value as one line of JSON.</summary>
    /// <typeparam name="T">A state, facts or <see cref="Evidence"/>; name the base type, so that its kind is written.</typeparam>
    /// <param name="value">The value.</param>
    public static string Write<T>(T value) => JsonSerializer.Serialize(value, Options);

    /// <summary>Reads what <see cref="Write{T}"/> wrote.</summary>
    /// <typeparam name="T">The type that was written.</typeparam>
    /// <param name="json">The JSON text.</param>
    /// <exception cref="JsonException">The text is no such value.</exception>
    public static T Read<T>(string json) =>
        JsonSerializer.Deserialize<T>(json, Options) ?? throw new JsonException("The JSON text holds null.");
}
