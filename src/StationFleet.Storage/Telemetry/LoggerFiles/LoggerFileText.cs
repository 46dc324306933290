using System.Text;
using System.Text.Unicode;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Storage.Telemetry.LoggerFiles;

/// <summary>A logger's file as text: UTF-8 or UTF-16 with a mark, UTF-8 without one, and Latin-1 when it is no UTF-8.</summary>
public static class LoggerFileText
{
    private const int LookedAt = 1 << 20;

    /// <summary>Opens a file for reading from its beginning.</summary>
    public static StreamReader Open(string path)
    {
        FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 1 << 16);
        byte[] head = new byte[Math.Min(LookedAt, file.Length)];
        int length = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        file.Position = 0;
        return new StreamReader(file, IsUtf8(head.AsSpan(0, length)) ? Encoding.UTF8 : Encoding.Latin1);
    }

    /// <summary>The first lines, for a guess and to look at.</summary>
    public static IReadOnlyList<string> FirstLines(string path, int count = LayoutGuess.LinesLookedAt)
    {
        using StreamReader file = Open(path);
        List<string> lines = [];
        while (lines.Count < count && file.ReadLine() is { } line)
        {
            lines.Add(line);
        }

        return lines;
    }

    // The head may end in the middle of a character.
    private static bool IsUtf8(ReadOnlySpan<byte> head)
    {
        for (int cut = 0; cut < 4 && cut <= head.Length; cut++)
        {
            if (Utf8.IsValid(head[..^cut]))
            {
                return true;
            }
        }

        return false;
    }
}
