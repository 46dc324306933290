using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace StationFleet.Testing;

/// <summary>Holds a document against one of our JSON Schemas.</summary>
public static class SchemaCheck
{
    /// <summary>What is wrong with a document, a line each.</summary>
    /// <remarks>Knows the few keywords of JSON Schema 2020-12 that our schemas use; formats and bounds are left to the parsers' own tests.</remarks>
    public static IEnumerable<string> Faults(JsonNode schema, JsonNode? value, string path)
    {
        if (schema["anyOf"] is JsonArray choices)
        {
            return choices.Any(choice => !Faults(choice!, value, path).Any()) ? [] : [$"{path}: none of the choices"];
        }

        if (schema["enum"] is JsonArray allowed)
        {
            return allowed.Any(one => JsonNode.DeepEquals(one, value)) ? [] : [$"{path}: {value?.ToJsonString()} is not allowed"];
        }

        return (schema["type"]?.GetValue<string>(), value) switch
        {
            (null, _) => [],
            ("object", JsonObject members) => Members(schema, members, path),
            ("array", JsonArray items) => items.SelectMany((item, i) => Faults(schema["items"]!, item, $"{path}[{i}]")),
            ("string", JsonValue text) when text.TryGetValue(out string? written) =>
                schema["pattern"] is { } pattern && !Regex.IsMatch(written, pattern.GetValue<string>()) ? [$"{path}: '{written}'"] : [],
            ("number" or "integer", JsonValue number) when number.TryGetValue(out double _) => [],
            ("boolean", JsonValue yes) when yes.TryGetValue(out bool _) => [],
            ("null", null) => [],
            var (type, _) => [$"{path}: is no {type}"],
        };
    }

    private static IEnumerable<string> Members(JsonNode schema, JsonObject members, string path)
    {
        JsonObject known = schema["properties"]?.AsObject() ?? [];
        foreach (string required in schema["required"]?.AsArray().Select(name => name!.GetValue<string>()) ?? [])
        {
            if (!members.ContainsKey(required))
            {
                yield return $"{path}: lacks {required}";
            }
        }

        foreach ((string name, JsonNode? value) in members)
        {
            JsonNode? rule = known[name] ?? (schema["additionalProperties"] is JsonObject others ? others : null);
            foreach (string fault in rule is null ? [$"{path}: does not know {name}"] : Faults(rule, value, $"{path}.{name}"))
            {
                yield return fault;
            }
        }
    }
}
