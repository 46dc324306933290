namespace StationFleet.Domain.Fleet;

/// <summary>What a tool is for.</summary>
public enum ToolKind
{
    /// <summary>The wet vacuum that draws water from bilges, live wells and ballast.</summary>
    Vacuum,

    /// <summary>A long-handled grabber for plants on trailers.</summary>
    Grabber,

    /// <summary>A drain-plug wrench.</summary>
    Wrench,

    /// <summary>A brush for hulls, boots or trailers.</summary>
    Brush,

    /// <summary>The air blower.</summary>
    Blower,

    /// <summary>Anything else an agency hangs on its station.</summary>
    Other,
}
