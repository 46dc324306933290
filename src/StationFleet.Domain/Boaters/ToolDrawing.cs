using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Boaters;

/// <summary>What a line of a drawing stands for; page and print give each its colour.</summary>
public enum DrawnAs
{
    /// <summary>Boat, trailer, ground.</summary>
    Boat,

    /// <summary>The tool.</summary>
    Tool,

    /// <summary>Water, plants, mud, air.</summary>
    Matter,
}

/// <summary>One line of a drawing.</summary>
/// <param name="As">What it stands for.</param>
/// <param name="Path">An SVG path of M, L, C and Z with absolute coordinates, spaces between all parts.</param>
public sealed record DrawnLine(DrawnAs As, string Path);

/// <summary>Plain line drawings of a tool in use, 120 wide and 90 high, for the public page and the sign.</summary>
public static class ToolDrawing
{
    /// <summary>The width of every drawing, in its own units.</summary>
    public const double Width = 120;

    /// <summary>The height of every drawing, in its own units.</summary>
    public const double Height = 90;

    /// <summary>The drawing of a kind, back to front.</summary>
    /// <param name="kind">The kind of tool.</param>
    public static IReadOnlyList<DrawnLine> Of(ToolKind kind) => kind switch
    {
        ToolKind.Vacuum =>
        [
            Boat("M 4 44 L 76 44 L 66 74 L 18 74 Z"),
            Matter("M 15 62 C 24 58 30 66 38 62 C 46 58 54 66 69 62"),
            Tool("M 44 68 L 44 36 C 44 6 88 2 94 36"),
            Tool("M 38 70 L 50 70"),
            Tool("M 82 36 L 112 36 L 112 82 L 82 82 Z M 82 48 L 112 48"),
            Boat("M 2 84 L 118 84"),
        ],
        ToolKind.Grabber =>
        [
            Boat("M 2 34 L 78 34 M 24 34 L 24 44"),
            Boat("M 24 44 C 35 44 44 53 44 64 C 44 75 35 84 24 84 C 13 84 4 75 4 64 C 4 53 13 44 24 44 Z"),
            Boat("M 24 58 C 27 58 30 61 30 64 C 30 67 27 70 24 70 C 21 70 18 67 18 64 C 18 61 21 58 24 58 Z"),
            Matter("M 58 34 C 52 46 66 50 58 62 C 54 68 60 74 56 80 M 58 48 C 66 46 70 50 72 54 M 59 60 C 52 58 50 62 48 66"),
            Tool("M 116 12 L 82 50 M 82 50 L 68 50 L 64 56 M 82 50 L 78 64 L 70 66"),
            Tool("M 116 12 L 106 8"),
        ],
        ToolKind.Wrench =>
        [
            Boat("M 6 10 C 24 16 58 16 76 10 L 68 52 L 41 70 L 14 52 Z"),
            Boat("M 41 46 C 46 46 49 49 49 54 C 49 59 46 62 41 62 C 36 62 33 59 33 54 C 33 49 36 46 41 46 Z"),
            Matter("M 41 74 L 41 80 M 34 76 L 34 84 M 48 76 L 48 84"),
            Tool("M 49 54 L 58 46 L 110 30 L 114 40 L 62 56 L 49 54"),
        ],
        ToolKind.Brush =>
        [
            Boat("M 2 14 L 66 14 C 62 44 40 62 10 66"),
            Matter("M 30 70 L 32 72 M 42 74 L 44 77 M 50 66 L 53 68 M 24 78 L 26 80 M 58 76 L 60 79"),
            Tool("M 54 38 L 70 56 L 78 48 L 62 30 Z"),
            Tool("M 54 38 L 46 42 M 59 44 L 51 49 M 65 50 L 57 55 M 70 56 L 63 61"),
            Tool("M 70 39 L 114 8"),
        ],
        ToolKind.Blower =>
        [
            Boat("M 4 36 L 44 36 L 44 78 L 4 78 Z M 4 46 L 44 46"),
            Matter("M 62 40 L 50 34 M 60 48 L 48 48 M 62 56 L 50 62 M 34 26 L 32 18 M 22 28 L 16 22 M 12 58 L 14 66 M 26 58 L 28 66"),
            Tool("M 68 42 L 94 34 L 94 62 L 68 54 Z"),
            Tool("M 94 38 L 112 38 L 112 58 L 94 58 M 102 58 L 98 80 L 108 80 L 110 58"),
        ],
        ToolKind.Other =>
        [
            Boat("M 60 8 L 60 84 M 44 84 L 76 84 M 24 18 L 96 18"),
            Tool("M 34 18 L 34 30 M 34 30 C 26 34 26 50 34 56 C 42 50 42 34 34 30 Z"),
            Tool("M 86 18 L 86 60 M 80 60 L 92 60"),
        ],
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such kind of tool."),
    };

    private static DrawnLine Boat(string path) => new(DrawnAs.Boat, path);

    private static DrawnLine Tool(string path) => new(DrawnAs.Tool, path);

    private static DrawnLine Matter(string path) => new(DrawnAs.Matter, path);
}
