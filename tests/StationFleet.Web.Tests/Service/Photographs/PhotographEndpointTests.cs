using System.Net;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Tests.Service.Photographs;

public sealed class PhotographEndpointTests : IAsyncLifetime, IDisposable
{
    private static readonly byte[] Picture = [0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3];
    private readonly FleetApp _app = new();
    private int _id;

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        Ticket ticket = await _app.AddTankTicketAsync(121);
        string folder = Directory.CreateDirectory(_app.Get<FleetPaths>().Photographs).FullName;
        await File.WriteAllBytesAsync(Path.Combine(folder, "tank.jpg"), Picture);
        _id = (await AddAsync(ticket, "tank.jpg")).Id;
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task Who_sees_the_ticket_sees_its_photograph_and_the_browser_does_not_keep_it()
    {
        using HttpResponseMessage answer = await GetAsync("field crew", null, _id);

        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        answer.Content.Headers.ContentType!.MediaType.Should().Be("image/jpeg");
        answer.Headers.CacheControl!.NoStore.Should().BeTrue();
        (await answer.Content.ReadAsByteArrayAsync()).Should().Equal(Picture);
    }

    [Fact]
    public async Task Who_does_not_see_the_ticket_is_told_that_there_is_none()
    {
        Agency other = await _app.Databases.AddAgencyAsync("Otter Bend Parks");

        using HttpResponseMessage answer = await GetAsync("second crew", other.Id, _id);

        answer.StatusCode.Should().Be(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task Nobody_sees_it_without_signing_in() =>
        (await _app.Http.GetAsync($"/photographs/{_id}")).StatusCode.Should().BeOneOf(HttpStatusCode.Redirect, HttpStatusCode.Unauthorized);

    [Fact]
    public async Task A_photograph_that_is_not_there_or_whose_file_is_gone_is_not_found()
    {
        int gone = (await AddAsync(await _app.TicketAsync(121), "gone.jpg")).Id;

        using HttpResponseMessage missing = await GetAsync("field crew", null, 4711);
        using HttpResponseMessage without = await GetAsync("third crew", null, gone);

        missing.StatusCode.Should().Be(HttpStatusCode.NotFound);
        without.StatusCode.Should().Be(HttpStatusCode.NotFound);
    }

    private Task<Photograph> AddAsync(Ticket ticket, string file) => _app.Databases.AddAsync(new Photograph
    {
        TicketId = ticket.Id, At = FleetApp.Start, Who = "field crew", File = file, IdempotencyKey = $"key-of-{file}", Width = 4, Height = 3,
    });

    private async Task<HttpResponseMessage> GetAsync(string name, AgencyId? agency, int id)
    {
        (_, Cookie cookie) = await _app.AddSignedInAsync(name, FleetRoles.Technician, agency);
        using HttpRequestMessage request = new(HttpMethod.Get, $"/photographs/{id}");
        request.Headers.Add("Cookie", $"{cookie.Name}={cookie.Value}");
        return await _app.Http.SendAsync(request);
    }
}
