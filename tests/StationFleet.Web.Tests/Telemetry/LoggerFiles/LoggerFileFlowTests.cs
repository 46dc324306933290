using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Telemetry.LoggerFiles;
using StationFleet.Storage.Watch;
using StationFleet.Web.Fleet;
using StationFleet.Web.Telemetry.LoggerFiles;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Tests.Telemetry.LoggerFiles;

/// <summary>A station falls silent for three days, people go on using it, and a card fills the gap, with the whole server running.</summary>
[SuppressMessage("Design", "CA1001", Justification = "The server ends in the asynchronous disposal of the test.")]
public sealed class LoggerFileFlowTests : IAsyncLifetime
{
    private const string Uses = "tools/vacuum/uses";

    private static readonly DateTimeOffset Silent = FleetApp.Start.AddDays(2);
    private static readonly DateTimeOffset Back = FleetApp.Start.AddDays(5);

    private readonly FleetApp _app = new();
    private Station _station = null!;

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        _station = await _app.Databases.AddStationAsync();
        await _app.Databases.AddPlacementAsync(_station, await _app.Databases.AddAccessAsync());
        await _app.Databases.AddToolAsync(_station);
        await _app.Databases.AddAsync(new StationTank { StationId = _station.Id, From = FleetBuilders.Created, CapacityLitres = 200 });
        await _app.Databases.AddAsync(WatchPosition.StartingAt(_station.Id, FleetApp.Start));

        await ReportUntilAsync(FleetApp.Start, Silent);
        foreach (DateTimeOffset at in Quarters(Silent, Back))
        {
            await WatchAtAsync(at);
        }

        await ReportUntilAsync(Back, Back.AddHours(2));
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    [Fact]
    public async Task A_card_fills_the_gap_on_the_station_s_page_its_days_and_its_pump_outs_and_takes_back_no_ticket()
    {
        ReadStation.View before = await PageAsync();
        List<Ticket> tickets = await RowsAsync<Ticket>();
        tickets.Should().ContainSingle().Which.Rule.Should().Be(Rule.NotReporting);
        before.Gaps.Should().Equal(new UtcInterval(Back.AddHours(2).AddDays(-30), FleetApp.Start.AddMinutes(15)), new UtcInterval(Silent, Back.AddMinutes(15)));
        (await UsesByDayAsync()).Should().Contain(day => day.Uncertain > 0, "what was gained over three days belongs to none of them");
        (await RowsAsync<PumpOut>()).Should().BeEmpty("it was emptied while it was silent, and is as full again");

        ReadLoggerFile.View import = await ImportAsync(Lines(Silent.AddHours(-3), Back));
        await _app.Get<RunWatch>().HandleAsync(CancellationToken.None);

        import.Counts.Should().BeEquivalentTo(new { End = ImportEnd.Done, Added = 2 * 3 * 96, Repeated = 2 * 12 });
        import.Counts.Filled.Should().Equal(new UtcInterval(Silent, Back));
        ReadStation.View after = await PageAsync();
        after.Gaps.Should().Equal(before.Gaps[0]);
        after.LastHeard.Should().Be(before.LastHeard, "a card is no sign of life");
        (await UsesByDayAsync()).Should().OnlyContain(day => day.Uncertain == 0);
        (await UsesByDayAsync()).Sum(day => day.Known).Should().Be((5 * 96) + 7, "the counter rises by one with each reading");
        (await RowsAsync<PumpOut>()).Should().ContainSingle().Which.At.Should().Be(Silent.AddDays(1).AddMinutes(15));
        (await RowsAsync<Ticket>()).Should().BeEquivalentTo(tickets, options => options.Including(ticket => ticket.Number).Including(ticket => ticket.Raised).Including(ticket => ticket.Rule));
        (await new RollUpVerifier(_app.Get<FleetDatabase>()).VerifyAsync(null, CancellationToken.None)).Should().BeEmpty();
    }

    [Fact]
    public async Task The_same_card_again_adds_nothing_and_is_read_as_the_last_one()
    {
        string[] card =
        [
            "When,Tank Fill (%),Vacuum uses",
            .. Quarters(Silent, Back).Select(at => $"{TimeZoneInfo.ConvertTime(at, Boise).ToString("M/d/yyyy h:mm tt", CultureInfo.InvariantCulture)},{Fill(at) * 100:0.######},{Total(at)}"),
        ];
        (LookAtLoggerFile.View first, string path) = await LookAsync(card);
        LoggerFileLayout chosen = first.Layout! with { Repeated = RepeatedHour.Second };

        await ImportAsync(first, path, chosen);
        (LookAtLoggerFile.View second, string again) = await LookAsync(card);
        LoggerFileSurvey survey = await _app.Get<LookAtLoggerFile>().SurveyAsync(second, again, second.Layout!, new Progress<double>(), CancellationToken.None);

        (first.IsRemembered, second.IsRemembered).Should().Be((false, true));
        second.Layout.Should().BeEquivalentTo(chosen);
        (survey.New, survey.Other, survey.Known).Should().Be((0, 0, survey.Readings));
        LoggerFileWords.Survey(survey, Back, Boise).Should().Be("576 readings of two series, Friday 07:20 to today 07:05; all are already known.");
    }

    [Fact]
    public async Task Whoever_only_reads_may_not_import()
    {
        string path = await UploadAsync(Lines(Silent, Back));

        (await _app.Get<LookAtLoggerFile>().HandleAsync(Viewers.Supervisor, _station.Id, path, null, CancellationToken.None)).Should().BeNull();
        (await _app.Get<ListLoggerFiles>().HandleAsync(Viewers.Supervisor, CancellationToken.None)).MayImport.Should().BeFalse();
    }

    private static TimeZoneInfo Boise { get; } = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    // Readings every quarter of an hour; the tank is emptied a day into the silence.
    private static double Total(DateTimeOffset at) => Math.Round((at - FleetApp.Start).TotalMinutes / 15);

    // It fills as it is used, and was emptied a day into the silence.
    private static double Fill(DateTimeOffset at) =>
        Math.Round(at > Silent.AddDays(1) ? 0.1 + (0.002 * (Total(at) - Total(Silent.AddDays(1)))) : 0.3 + (0.0005 * Total(at)), 4);

    private static IEnumerable<DateTimeOffset> Quarters(DateTimeOffset after, DateTimeOffset to) =>
        Enumerable.Range(1, (int)((to - after).TotalMinutes / 15)).Select(i => after.AddMinutes(15 * i));

    private static string[] Lines(DateTimeOffset after, DateTimeOffset to) =>
    [
        LoggerFileLayout.OwnHeader,
        .. from at in Quarters(after, to)
           from line in (string[])
               [string.Create(CultureInfo.InvariantCulture, $"{at:yyyy-MM-ddTHH:mm:ssZ},{Uses},count,{Total(at)}"), string.Create(CultureInfo.InvariantCulture, $"{at:yyyy-MM-ddTHH:mm:ssZ},tank/fill,/,{Fill(at)}")]
           select line,
    ];

    private async Task ReportUntilAsync(DateTimeOffset after, DateTimeOffset to)
    {
        foreach (DateTimeOffset at in Quarters(after, to))
        {
            _app.Clock.SetUtcNow(at);
            (await _app.Get<MeasurementWriter>().WriteAsync(
                FleetBuilders.Report(_station, new(Uses, at, Total(at)), new("tank/fill", at, at >= Back ? 0.5 : Fill(at))), CancellationToken.None))
                .Should().BeOfType<WriteOutcome.Stored>();
            await WatchAtAsync(at);
        }
    }

    private async Task WatchAtAsync(DateTimeOffset at)
    {
        _app.Clock.SetUtcNow(at);
        await _app.Get<RunWatch>().HandleAsync(CancellationToken.None);
    }

    private async Task<string> UploadAsync(string[] lines)
    {
        byte[] content = System.Text.Encoding.UTF8.GetBytes(string.Join("\r\n", lines));
        return await _app.Get<UploadFolder>().KeepAsync(new MemoryStream(content), content.Length, new Progress<double>(), CancellationToken.None);
    }

    private async Task<(LookAtLoggerFile.View Look, string Path)> LookAsync(string[] lines)
    {
        string path = await UploadAsync(lines);
        return ((await _app.Get<LookAtLoggerFile>().HandleAsync(Viewers.Technician, _station.Id, path, null, CancellationToken.None))!, path);
    }

    private async Task<ReadLoggerFile.View> ImportAsync(string[] lines)
    {
        (LookAtLoggerFile.View look, string path) = await LookAsync(lines);
        return await ImportAsync(look, path, look.Layout!);
    }

    private async Task<ReadLoggerFile.View> ImportAsync(LookAtLoggerFile.View look, string path, LoggerFileLayout layout)
    {
        LoggerFileSurvey survey = await _app.Get<LookAtLoggerFile>().SurveyAsync(look, path, layout, new Progress<double>(), CancellationToken.None);
        int id = (await _app.Get<ImportLoggerFile>().HandleAsync(
            Viewers.Technician, new ImportLoggerFile.Command(look, survey, layout, path, "card.csv", 1), CancellationToken.None))!.Value;
        await (_app.Get<ImportLoggerFile>().Find(id)?.Work ?? Task.CompletedTask);
        File.Exists(path).Should().BeFalse("a file that was read is not kept");
        return (await _app.Get<ReadLoggerFile>().HandleAsync(Viewers.Technician, id, CancellationToken.None))!;
    }

    private async Task<ReadStation.View> PageAsync() => (await _app.Get<ReadStation>().HandleAsync(Viewers.Technician, _station.Code, CancellationToken.None))!;

    private async Task<IReadOnlyList<(DateOnly Day, double Known, double Uncertain)>> UsesByDayAsync() =>
        [.. (await _app.Get<MeasurementReader>().DaysAsync([_station.Id], [Uses], new DateOnly(2026, 7, 1), new DateOnly(2026, 7, 20), CancellationToken.None))
            .Select(day => (day.RollUp.Day, day.RollUp.Figures.Known + (day.RollUp.Figures.AcrossDays > 1 ? 0 : day.RollUp.Figures.AcrossDays),
                day.RollUp.Figures.AcrossDays > 1 ? day.RollUp.Figures.AcrossDays : 0))];

    private async Task<List<T>> RowsAsync<T>()
        where T : class
    {
        await using FleetDbContext db = await _app.Databases.CreateDbContextAsync();
        return await db.Set<T>().AsNoTracking().ToListAsync();
    }
}
