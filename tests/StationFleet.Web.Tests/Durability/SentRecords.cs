using System.Net;
using System.Net.Http.Headers;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Tests.Durability;

/// <summary>A station's sender that knows what it was promised: it sends pack after pack, and a pack without an answer again.</summary>
internal sealed class SentRecords(Station station, string key, int records)
{
    private static readonly DateTimeOffset First = new(2026, 7, 1, 0, 0, 0, TimeSpan.Zero);

    private readonly HashSet<int> _promised = [];
    private int _next;

    public StationFleet.Domain.Fleet.StationId Station => station.Id;

    /// <summary>Packs that were answered with 200.</summary>
    public int Promised => _promised.Count;

    /// <summary>Sends packs until the server is gone or the time is up.</summary>
    public async Task SendAsync(HttpClient http, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            try
            {
                using HttpResponseMessage answer = await PostAsync(http, _next);
                if (answer.StatusCode == HttpStatusCode.OK)
                {
                    _promised.Add(_next++);
                }
                else if (answer.StatusCode != HttpStatusCode.TooManyRequests)
                {
                    throw new InvalidOperationException($"{answer.StatusCode}: {await answer.Content.ReadAsStringAsync(CancellationToken.None)}");
                }
            }
            catch (HttpRequestException)
            {
                return; // killed: whether the pack is there is not known, so it is sent again
            }
        }
    }

    /// <summary>Sends the next pack.</summary>
    public async Task<HttpResponseMessage> SendNextAsync(HttpClient http)
    {
        HttpResponseMessage answer = await PostAsync(http, _next);
        if (answer.StatusCode == HttpStatusCode.OK)
        {
            _promised.Add(_next++);
        }

        return answer;
    }

    /// <summary>Every promised record is there with its value; of the pack without an answer all or nothing.</summary>
    public async Task VerifyAsync(MeasurementReader reader)
    {
        IReadOnlyList<Measurement> stored = await reader.RangeAsync(
            station.Id, Names, First.AddDays(-1), First.AddYears(1), CancellationToken.None);
        Dictionary<(string, DateTimeOffset), double> byKey = stored.ToDictionary(row => (row.Name, row.At), row => row.Value);
        foreach (int pack in _promised)
        {
            Pack(pack).Should().OnlyContain(row => byKey.ContainsKey(new(row.Name, row.At)) && byKey[new(row.Name, row.At)].Equals(row.Value), $"pack {pack} of {station.Code} was promised");
        }

        int unanswered = Pack(_next).Count(row => byKey.ContainsKey((row.Name, row.At)));
        unanswered.Should().BeOneOf(0, records);
        stored.Should().HaveCount((_promised.Count * records) + unanswered, "nothing is there that was not sent");

        // The order of knowing counts each record once, too.
        IReadOnlyList<ReceivedReport> reports = await reader.NewReportsAsync(station.Id, 0, int.MaxValue, CancellationToken.None);
        reports.Sum(report => report.Measurements.Count).Should().Be(stored.Count);
    }

    public static async Task<SentRecords> MakeAsync(FleetDatabase database, string code, int records)
    {
        Station station = await database.AddStationAsync(code);
        string key = StationKeyText.New();
        await database.AddAsync(new StationKey
        {
            StationId = station.Id,
            Prefix = StationKeyText.PrefixOf(key)!,
            Hash = Convert.ToHexStringLower(StationKeyText.HashOf(key)),
            Created = FleetBuilders.Created,
        });
        return new SentRecords(station, key, records);
    }

    private static string[] Names => [MeasurementName.Uses("vacuum"), MeasurementName.TankFill, MeasurementName.ControllerUptime];

    private Measurement[] Pack(int index) => [.. Enumerable.Range(0, records).Select(row =>
    {
        int step = (index * records) + row;
        DateTimeOffset at = First.AddMinutes(step);
        return (row % 3) switch
        {
            0 => new Measurement(MeasurementName.Uses("vacuum"), at, step),
            1 => new Measurement(MeasurementName.TankFill, at, step % 100 / 100.0),
            _ => new Measurement(MeasurementName.ControllerUptime, at, 60 * step),
        };
    })];

    private async Task<HttpResponseMessage> PostAsync(HttpClient http, int index)
    {
        using HttpRequestMessage request = new(HttpMethod.Post, new Uri("/api/v1/reports", UriKind.Relative))
        {
            Content = new ByteArrayContent(SenmlWriter.Write(station.Code, Pack(index))),
        };
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
        return await http.SendAsync(request);
    }
}
