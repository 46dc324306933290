namespace StationFleet.Domain.Boaters;

/// <summary>What a boater says is wrong.</summary>
public enum Trouble
{
    /// <summary>It does not start or does not pull.</summary>
    DoesNotWork,

    /// <summary>It is broken.</summary>
    Broken,

    /// <summary>It is not there.</summary>
    Missing,

    /// <summary>Water or liquid runs out of it.</summary>
    Leaks,

    /// <summary>A smell of fuel, sparks, a sharp edge: somebody could get hurt.</summary>
    Dangerous,

    /// <summary>Something else, told in words.</summary>
    Other,
}

/// <summary>What became of what a boater reported.</summary>
public enum PublicReportState
{
    /// <summary>A person has to look at it.</summary>
    Waiting,

    /// <summary>It went as a note to the ticket that was open on the tool.</summary>
    Noted,

    /// <summary>A person made a ticket of it.</summary>
    Confirmed,

    /// <summary>A person put it aside.</summary>
    Dismissed,
}

/// <summary>A boater's report in words.</summary>
public static class PublicReportWords
{
    /// <summary>Who is said to have written such a note.</summary>
    public const string Who = "reported by the public";

    /// <summary>What is wrong, as a boater chooses it: «It is missing».</summary>
    /// <param name="trouble">What is wrong.</param>
    public static string Choice(Trouble trouble) => trouble switch
    {
        Trouble.DoesNotWork => "It does not work",
        Trouble.Broken => "It is broken",
        Trouble.Missing => "It is missing",
        Trouble.Leaks => "It leaks",
        Trouble.Dangerous => "It looks dangerous",
        Trouble.Other => "Something else",
        _ => throw new ArgumentOutOfRangeException(nameof(trouble), trouble, "There is no such trouble."),
    };

    /// <summary>What was said, for tickets and lists: «Grabber: it is missing. “Only the hook is left.”».</summary>
    /// <param name="tool">The name the agency gave the tool; empty speaks of the whole station.</param>
    /// <param name="trouble">What is wrong.</param>
    /// <param name="words">What the boater wrote; may be empty.</param>
    public static string Sentence(string tool, Trouble trouble, string words)
    {
        ArgumentNullException.ThrowIfNull(tool);
        ArgumentNullException.ThrowIfNull(words);
        string choice = Choice(trouble);
        string head = $"{(tool.Length == 0 ? "The whole station" : tool)}: {char.ToLowerInvariant(choice[0])}{choice[1..]}.";
        return words.Length == 0 ? head : $"{head} “{words}”";
    }
}
