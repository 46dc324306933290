using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Cli;

/// <summary>The files of a folder, and whose rows they hold.</summary>
internal sealed class TelemetryFolder
{
    private readonly Dictionary<string, string> _files = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, List<LoggerLine.Reading>> _rows = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<FleetStation> _stations = [];

    public IReadOnlyList<FleetStation> Stations => _stations;

    public List<string> LeftOut { get; } = [];

    public static TelemetryFolder In(DirectoryInfo folder, FleetFile fleet)
    {
        TelemetryFolder telemetry = new();
        foreach (FileInfo file in folder.GetFiles("*.csv").Where(file => file.Name != EventsCsv.FileName).OrderBy(file => file.Name, StringComparer.Ordinal))
        {
            telemetry.Take(file, fleet);
        }

        telemetry._stations.AddRange(fleet.Stations.Where(s => telemetry._files.ContainsKey(s.Code) || telemetry._rows.ContainsKey(s.Code)));
        telemetry.LeftOut.AddRange(fleet.Stations.Except(telemetry._stations).Select(s => $"Nothing was recorded of {s.Code}; it is not tried."));
        telemetry.LeftOut.AddRange(telemetry._rows.Keys.Where(code => fleet.Stations.All(s => !s.Has(code)))
            .Select(code => $"Rows of {code} are left out: the fleet file has no such station."));
        return telemetry;
    }

    /// <summary>When the last report of all was received; null without any.</summary>
    public DateTimeOffset? LastReceived() => _files.Values.Select(LongCsv.LastReceived)
        .Concat(_rows.Values.SelectMany(rows => rows).Select(row => (DateTimeOffset?)(row.Received ?? row.At))).Max();

    public IReadOnlyList<LoggerLine.Reading> RowsOf(FleetStation station) =>
    [
        .. _files.TryGetValue(station.Code, out string? file) ? LongCsv.Read(file) : [],
        .. _rows.GetValueOrDefault(station.Code, []),
    ];

    private void Take(FileInfo file, FleetFile fleet)
    {
        if (LongCsv.HasStations(file.FullName))
        {
            foreach (LoggerLine.Reading row in LongCsv.Read(file.FullName))
            {
                if (!_rows.TryGetValue(row.Station!, out List<LoggerLine.Reading>? rows))
                {
                    _rows[row.Station!] = rows = [];
                }

                rows.Add(row);
            }

            return;
        }

        string code = Path.GetFileNameWithoutExtension(file.Name);
        if (fleet.Stations.Any(station => station.Has(code)))
        {
            _files[code] = file.FullName;
        }
        else
        {
            LeftOut.Add($"{file.Name} is left out: the fleet file has no station {code}.");
        }
    }
}

internal static class StationCodes
{
    /// <summary>Whether a code in a file or its name means this station; letters of either size do.</summary>
    public static bool Has(this FleetStation station, string code) => string.Equals(station.Code, code, StringComparison.OrdinalIgnoreCase);
}
