using System.Globalization;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Telemetry.LoggerFiles;
using static StationFleet.Testing.FleetBuilders;

namespace StationFleet.Storage.Tests.Telemetry.LoggerFiles;

public sealed class LoggerFileImporterTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private const string Uses = "tools/vacuum/uses";

    private static readonly DateTimeOffset Midnight = new(2026, 7, 2, 6, 0, 0, TimeSpan.Zero);   // in Boise
    private static readonly DateTimeOffset Now = Midnight.AddDays(5);

    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task A_card_fills_the_gap_and_a_second_import_adds_nothing()
    {
        Station station = await PlacedAsync("CARD-1");
        await SendAsync(station, 0, 24);
        await SendAsync(station, 72, 96);
        DateTimeOffset heard = (await file.Reader.LastHeardAsync(_cancel))[station.Id];
        LoggerFile card = Card(station, Lines(20, 76));

        LoggerFileSurvey survey = await Importer.SurveyAsync(card, null, _cancel);
        LoggerFileCounts first = await Importer.ImportAsync(card, survey, null, _cancel);
        LoggerFileCounts second = await Importer.ImportAsync(card, await Importer.SurveyAsync(card, null, _cancel), null, _cancel);

        // The card holds 56 hours with four readings of two series each; the station had sent 8 of them.
        (survey.Readings, survey.Known, survey.New).Should().Be((448, 64, 384));
        (first.End, first.Added, first.Repeated, first.SetAside.Count).Should().Be((ImportEnd.Done, 384, 64, 0));
        (first.FirstAt, first.LastAt).Should().Be((Midnight.AddHours(24), Midnight.AddHours(71.75)));
        first.Filled.Should().Equal(new UtcInterval(Midnight.AddHours(23.75), Midnight.AddHours(72)));
        (second.Added, second.Repeated, second.Filled.Count).Should().Be((0, 448, 0));
        (await file.Reader.LastHeardAsync(_cancel))[station.Id].Should().Be(heard, "a card is no sign of life");
        (await file.Reader.RecentReportsAsync(station.Id, 1, _cancel)).Single().Source.Should().Be(ReportSource.LoggerFile);
        IReadOnlyList<SeriesDay> days = await file.Reader.DaysAsync([station.Id], [Uses], new DateOnly(2026, 7, 2), new DateOnly(2026, 7, 5), _cancel);
        days.Sum(day => day.RollUp.Figures.Gained).Should().Be((96 * 4) - 1, "the counter rises by one with each reading");
        (await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel)).Should().BeEmpty();
    }

    [Fact]
    public async Task What_a_card_says_otherwise_is_set_aside_and_the_first_value_stays()
    {
        Station station = await PlacedAsync("CARD-2");
        await SendAsync(station, 0, 1);
        LoggerFile card = Card(station,
        [
            $"{Iso(0)},{Uses},count,17", $"{Iso(0.25)},{Uses},count,18", "what?", $"{Iso(1)},{Uses},V,4", $"{Iso(1.25)},{Uses},V,5", $"{Iso(400)},{Uses},count,9",
        ]);

        LoggerFileCounts counts = await Importer.ImportAsync(card, await Importer.SurveyAsync(card, null, _cancel), null, _cancel);

        (counts.Added, counts.Repeated).Should().Be((0, 0));
        counts.SetAside.Select(reason => (reason.Count, reason.FirstLine)).Should().Equal((2, 2), (2, 5), (1, 4), (1, 7));
        counts.SetAside[0].Reason.Should().StartWith("The value 0 is already known");
        (await file.SetAside.ListAsync(new SetAsideChoice([station.Id]), 10, _cancel)).Select(row => row.Index).Should().BeEquivalentTo([2, 3, 4, 5, 6, 7]);
    }

    [Fact]
    public async Task An_import_that_is_stopped_keeps_what_it_stored_and_the_next_one_goes_on()
    {
        Station station = await PlacedAsync("CARD-3");
        LoggerFile card = Card(station, Lines(-1320, 0));
        using CancellationTokenSource stop = new();
        LoggerFileSurvey survey = await Importer.SurveyAsync(card, null, _cancel);

        LoggerFileCounts stopped = await Importer.ImportAsync(card, survey, new StopAtFirst(stop), stop.Token);
        LoggerFileCounts rest = await Importer.ImportAsync(card, survey, null, _cancel);

        stopped.End.Should().Be(ImportEnd.Stopped);
        stopped.Added.Should().BeInRange(1, survey.New - 1);
        (rest.End, rest.Repeated, rest.Added).Should().Be((ImportEnd.Done, stopped.Added, survey.New - stopped.Added));
    }

    [Theory]
    [InlineData("utf-8", "°C")]
    [InlineData("utf-16", "°C")]
    [InlineData("latin1", "°C")]
    public async Task A_file_is_read_in_the_encoding_it_has(string encoding, string unit)
    {
        string path = Path.GetTempFileName();
        await File.WriteAllTextAsync(path, $"time,air temperature ({unit})\n2026-07-02 06:00,20", System.Text.Encoding.GetEncoding(encoding));

        IReadOnlyList<string> lines = LoggerFileText.FirstLines(path);

        File.Delete(path);
        LayoutGuess.Of(lines, "UTC", []).Layout!.Columns.Should().BeEquivalentTo(new LoggerColumns.Table([new SeriesColumn(1, "air/temperature", unit)]));
    }

    [Fact]
    public void A_data_folder_is_held_by_one_program_at_a_time()
    {
        string folder = Path.GetDirectoryName(file.Database.Path)!;

        using (DataLock held = DataLock.TryTake(folder)!)
        {
            held.Should().NotBeNull();
            DataLock.TryTake(folder).Should().BeNull();
        }

        using DataLock again = DataLock.TryTake(folder)!;
        again.Should().NotBeNull();
    }

    private LoggerFileImporter Importer => new(file.Writer, file.Reader);

    private sealed class StopAtFirst(CancellationTokenSource stop) : IProgress<LoggerFileCounts>
    {
        public void Report(LoggerFileCounts value) => stop.Cancel();
    }

    private LoggerFile Card(Station station, IEnumerable<string> lines)
    {
        string path = Path.Combine(Path.GetDirectoryName(file.Database.Path)!, $"{station.Code}.csv");
        File.WriteAllLines(path, lines.Prepend(LoggerFileLayout.OwnHeader));
        return new LoggerFile(
            path, LoggerFileLayout.Own(LoggerFileLayout.OwnHeader)!, station.Id, new StationContext(station.Code, station.Created, station.HasNoClock), Now);
    }

    private static IEnumerable<string> Lines(int fromHour, int toHour) =>
        from quarter in Enumerable.Range(fromHour * 4, (toHour - fromHour) * 4)
        from line in (string[])[$"{Iso(quarter / 4.0)},{Uses},count,{quarter}", $"{Iso(quarter / 4.0)},tank/fill,/,0.5"]
        select line;

    private static string Iso(double hour) => Midnight.AddHours(hour).UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private async Task SendAsync(Station station, int fromHour, int toHour)
    {
        IEnumerable<Measurement> measurements = Enumerable.Range(fromHour * 4, (toHour - fromHour) * 4).SelectMany(quarter => (Measurement[])
            [new(Uses, Midnight.AddMinutes(15 * quarter), quarter), new("tank/fill", Midnight.AddMinutes(15 * quarter), 0.5)]);
        (await file.Writer.WriteAsync(Report(station, [.. measurements]), _cancel)).Should().BeOfType<WriteOutcome.Stored>();
    }

    private async Task<Station> PlacedAsync(string code)
    {
        Station station = await file.AddStationAsync(code);
        await file.AddPlacementAsync(station, await file.AddAccessAsync($"at-{code}"));
        return station;
    }
}
