using System.Reflection;
using System.Runtime.CompilerServices;

namespace StationFleet.Web.Tests.Architecture;

/// <summary>Lists in the documents that a machine can hold against the code.</summary>
public sealed class DocumentTests
{
    private static string Root => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(ThisFile())!, "..", "..", ".."));

    [Fact]
    public void Every_setting_is_in_docs_settings()
    {
        string text = File.ReadAllText(Path.Combine(Root, "docs", "settings.md"));
        IEnumerable<string> settings = typeof(Program).Assembly.GetTypes()
            .Where(type => type.Name.EndsWith("Options", StringComparison.Ordinal))
            .Where(type => type.GetField("Section", BindingFlags.Public | BindingFlags.Static) is { IsLiteral: true })
            .SelectMany(type => type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
                .Where(property => property.CanWrite || property.PropertyType.IsGenericType)
                .Select(property => $"{type.GetField("Section")!.GetRawConstantValue()}:{property.Name}"));

        settings.Should().NotBeEmpty();
        settings.Where(setting => !text.Contains($"`{setting}`", StringComparison.Ordinal)).Should().BeEmpty();
    }

    [Fact]
    public void Every_rule_has_its_row_in_docs_watch()
    {
        string text = File.ReadAllText(Path.Combine(Root, "docs", "watch.md"));

        Enum.GetValues<Domain.Watch.Rule>().Select(Domain.Watch.ProblemSentences.Name)
            .Where(name => !text.Contains($"| {name} |", StringComparison.Ordinal)).Should().BeEmpty();
    }

    [Fact]
    public void The_README_links_to_nothing_that_is_missing()
    {
        string text = File.ReadAllText(Path.Combine(Root, "README.md"));
        IEnumerable<string> links = System.Text.RegularExpressions.Regex.Matches(text, @"\]\((?!https?:)([^)#]+)\)").Select(match => match.Groups[1].Value);

        links.Should().NotBeEmpty();
        links.Where(link => !File.Exists(Path.Combine(Root, link))).Should().BeEmpty();
    }

    private static string ThisFile([CallerFilePath] string path = "") => path;
}
