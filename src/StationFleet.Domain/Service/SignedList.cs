namespace StationFleet.Domain.Service;

/// <summary>A checklist that one person signs for a whole station, before something may be done with it.</summary>
public enum SignedList
{
    /// <summary>Before a portable is placed anew: it must carry nothing from one water to the next.</summary>
    CleanToMove,

    /// <summary>Before a station goes into service after the winter.</summary>
    SeasonOpening,

    /// <summary>When a station is laid up for the winter.</summary>
    Winterizing,
}

/// <summary>The steps of the signed checklists (common practice, no source; how long to dry is for the agency's rules).</summary>
public static class SignedLists
{
    /// <summary>The list's name.</summary>
    /// <param name="list">The list.</param>
    public static string Name(SignedList list) => list switch
    {
        SignedList.CleanToMove => "Clean to move",
        SignedList.SeasonOpening => "Season opening",
        SignedList.Winterizing => "Winterizing",
        _ => throw new ArgumentOutOfRangeException(nameof(list), list, "There is no such list."),
    };

    /// <summary>The list's name in addresses.</summary>
    /// <param name="list">The list.</param>
    public static string Slug(SignedList list) => Name(list).ToLowerInvariant().Replace(' ', '-');

    /// <summary>The list of a name in addresses; null when there is none.</summary>
    /// <param name="slug">The name.</param>
    public static SignedList? Of(string slug)
    {
        foreach (SignedList list in Enum.GetValues<SignedList>())
        {
            if (Slug(list) == slug)
            {
                return list;
            }
        }

        return null;
    }

    /// <summary>Every step, in order; all of them must be done before the list is signed.</summary>
    /// <param name="list">The list.</param>
    /// <param name="tools">The names of the tools that hang on the station.</param>
    public static IReadOnlyList<string> Steps(SignedList list, IReadOnlyList<string> tools) => list switch
    {
        SignedList.CleanToMove =>
        [
            "Tank pumped out and rinsed; its water taken to an approved site.",
            "Hoses, pump and nozzles drained.",
            "Brushes, grabbers and hooks cleaned: no plants, no mud.",
            "Trailer cleaned: axle, bunks, lights, tyres.",
            "Drain plugs out, and they stay out on the road.",
        ],
        SignedList.SeasonOpening =>
        [
            "Battery, panel and cables looked at, whole and dry.",
            "Tank and hoses whole, valves close.",
            "Signs in their place, readable; the QR code opens the page.",
            "A report came in today.",
            .. tools.Select(tool => $"{tool}: used once, it works, and its count rose."),
        ],
        SignedList.Winterizing =>
        [
            "Tank pumped out and rinsed; its water taken to an approved site.",
            "Hoses, pump and vacuum drained against frost.",
            "Battery charged and kept as its maker says, or taken in.",
            "Panel safe against snow and wind, controller off or set to rest.",
            "Tools taken in or locked, the sign “closed for the winter” put up.",
        ],
        _ => throw new ArgumentOutOfRangeException(nameof(list), list, "There is no such list."),
    };

    /// <summary>What a person must not get hurt by.</summary>
    /// <param name="list">The list.</param>
    public static IReadOnlyList<string> Beware(SignedList list) =>
        list == SignedList.CleanToMove ? Cautions.For(Watch.Rule.TankFilling)
        : [.. Cautions.For(Watch.Rule.LowCharge), .. Cautions.For(Watch.Rule.TankFilling).Take(2)];
}
