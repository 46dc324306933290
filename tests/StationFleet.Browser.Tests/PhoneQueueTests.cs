using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Service;
using StationFleet.Web.Platform;
using Xunit.Abstractions;

namespace StationFleet.Browser.Tests;

/// <summary>Tickets are closed while the network comes and goes; set STATIONFLEET_CLOSINGS to 100 or 1000 for a longer run.</summary>
public sealed class PhoneQueueTests(FleetApp app, ITestOutputHelper output) : IClassFixture<FleetApp>
{
    private const int InRound = 5;
    private const int Seed = 20260708;

    private static int Closings => int.TryParse(
        Environment.GetEnvironmentVariable("STATIONFLEET_CLOSINGS"), NumberStyles.None, CultureInfo.InvariantCulture, out int count) ? count : 15;

    [Fact]
    public async Task Closings_over_a_failing_network_arrive_once_each()
    {
        Random random = new(Seed);
        await PhoneInTheField.AddTechnicianAsync(app, "crew@juniper-basin.example");
        await using PhoneInTheField phone = await PhoneInTheField.OpenAsync(app);
        await phone.SignInAsync("crew@juniper-basin.example");
        Dictionary<string, int> happened = [];
        for (int first = 1; first <= Closings; first += InRound)
        {
            int[] numbers = [.. Enumerable.Range(first, Math.Min(InRound, Closings - first + 1))];
            await RoundAsync(phone, numbers, random, happened);
        }

        output.WriteLine($"seed {Seed}: {string.Join(", ", happened.Select(pair => $"{pair.Key} {pair.Value}"))}");
        for (int number = 1; number <= Closings; number++)
        {
            await CheckAsync(number);
        }

        Directory.GetFiles(app.Get<FleetPaths>().Photographs).Should().HaveCount(Closings / 3, "each photograph is one file");
    }

    private async Task RoundAsync(PhoneInTheField phone, int[] numbers, Random random, Dictionary<string, int> happened)
    {
        void Count(string what) => happened[what] = happened.GetValueOrDefault(what) + 1;
        foreach (int number in numbers)
        {
            await app.AddTankTicketAsync(number, $"S-{number}");
        }

        await phone.FillAsync(numbers);
        foreach (int number in numbers)
        {
            app.Clock.Advance(TimeSpan.FromMinutes(1));
            string weather = random.Next(4) switch { 0 => "signal", 1 => "no server", 2 => "lost answer", _ => "no signal" };
            Count(weather);
            phone.Wire.Set(weather switch { "no server" => Wire.Mood.Down, "lost answer" => Wire.Mood.Deaf, _ => Wire.Mood.Up });
            await phone.SetOfflineAsync(weather == "no signal");
            await phone.OpenTicketAsync(number);
            if (random.Next(3) == 0)
            {
                Count("taken first");
                await phone.PressAsync(number, "take", twice: random.Next(2) == 0);
                await phone.OpenTicketAsync(number);
            }

            await phone.WriteAsync($"Found {number}", "40", "30");
            bool withPhotograph = number % 3 == 0;
            if (withPhotograph)
            {
                Count("photograph");
                await phone.PhotographAsync();
            }

            bool twice = random.Next(2) == 0;
            Count(twice ? "double tap" : "single tap");
            await phone.PressAsync(number, "close", twice);
            if (random.Next(3) == 0)
            {
                Count("browser restart");
                await phone.RestartAsync();
            }
        }

        phone.Wire.Set(Wire.Mood.Up);
        await phone.SetOfflineAsync(false);
        await phone.GoAsync("/work");
        await phone.WaitAsync("(await phoneQueue.all()).every(entry => entry.state === 'sent')");
    }

    private async Task CheckAsync(int number)
    {
        string because = $"of T-{number}";
        Ticket ticket = await app.TicketAsync(number);
        ticket.State.Should().Be(TicketState.Closed, because);
        List<TicketEvent> events = await app.EventsAsync(number);
        events.Where(happening => happening.Kind == TicketEventKind.Closed).Should().ContainSingle(because)
            .Which.Note.Should().Contain($"Found {number}\n", because);
        events.Count(happening => happening.Kind == TicketEventKind.Taken).Should().BeLessThanOrEqualTo(1, because);
        (await app.VisitsAsync(number)).Should().ContainSingle(because).Which.Minutes.Should().Be(30, because);
        (await app.PumpOutsAsync(number)).Should().ContainSingle(because);
        List<Photograph> photographs = await app.ReadAsync(db => db.Photographs.Where(photograph => photograph.TicketId == ticket.Id).ToListAsync());
        photographs.Select(photograph => (photograph.Width, photograph.Height)).Should().Equal(
            number % 3 == 0 ? [(1600, 1067)] : Array.Empty<(int, int)>(), because);
    }
}
