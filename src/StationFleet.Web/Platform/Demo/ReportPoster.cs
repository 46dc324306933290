using System.Net;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Web.Platform.Demo;

/// <summary>Sends a simulated report to this server as the station's controller would: over HTTP, with its key.</summary>
internal sealed partial class ReportPoster(IServer server, ILogger<ReportPoster> logger) : IDisposable
{
    private const int Attempts = 60;

    private readonly HttpClient _http = new(new SocketsHttpHandler { UseProxy = false });

    /// <summary>The address that people open; plain HTTP where there is a choice.</summary>
    public Uri Address => AddressOf(server.Features.Get<IServerAddressesFeature>()?.Addresses.Order(StringComparer.Ordinal).FirstOrDefault()
        ?? throw new InvalidOperationException("The server listens nowhere."));

    public async Task PostAsync(SimulatedReport report, DemoFile keys, CancellationToken cancel)
    {
        byte[] pack = SenmlWriter.Write(report.Station, report.Measurements);
        for (int attempt = 1; ; attempt++)
        {
            using HttpRequestMessage request = new(HttpMethod.Post, new Uri(Address, "/api/v1/reports"));
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", keys.Keys[report.Station]);
            request.Content = new ByteArrayContent(pack);
            request.Content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
            using HttpResponseMessage answer = await _http.SendAsync(request, cancel);
            if (answer.IsSuccessStatusCode)
            {
                return;
            }

            if (answer.StatusCode is not (HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable) || attempt == Attempts)
            {
                // Somebody may have revoked the demo's key or taken the station away: the others go on.
                LogRefused(report.Station, (int)answer.StatusCode);
                return;
            }

            await Task.Delay(answer.Headers.RetryAfter?.Delta ?? TimeSpan.FromSeconds(1), cancel);
        }
    }

    public void Dispose() => _http.Dispose();

    private static Uri AddressOf(string listening)
    {
        Uri address = new(listening.Replace("://+", "://localhost", StringComparison.Ordinal).Replace("://*", "://localhost", StringComparison.Ordinal));
        return address.Host is "0.0.0.0" or "[::]" ? new UriBuilder(address) { Host = "localhost" }.Uri : address;
    }

    [LoggerMessage(3101, LogLevel.Warning, "A report of the demo's station {Station} was refused with {Status}.")]
    private partial void LogRefused(string station, int status);
}
