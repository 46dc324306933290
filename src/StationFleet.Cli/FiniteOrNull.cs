using System.Text.Json;
using System.Text.Json.Serialization;

namespace StationFleet.Cli;

/// <summary>JSON knows no infinite number and no missing one: both are written as null.</summary>
internal sealed class FiniteOrNull : JsonConverter<double>
{
    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetDouble();

    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
    {
        if (double.IsFinite(value))
        {
            writer.WriteNumberValue(value);
        }
        else
        {
            writer.WriteNullValue();
        }
    }
}
