using StationFleet.Domain.Seasons;

namespace StationFleet.Reports.Tests.Seasons;

public sealed class SeasonDocumentTests
{
    [Fact]
    public void The_document_tells_every_definition_in_the_words_of_the_page()
    {
        string document = File.ReadAllText(Path.Combine(Root(), "docs", "season-summary.md"));

        foreach (FigureDefinition figure in SeasonDefinitions.All)
        {
            document.Should().Contain($"| {figure.Name} | `{figure.Key}` | {figure.Definition} | {figure.Source} |");
        }
    }

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "StationFleet.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("The tests run outside the repository.");
    }
}
