using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Domain.Tests.Telemetry.LoggerFiles;

public sealed class LoggerFileReaderTests
{
    private static readonly DateTimeOffset Six = new(2026, 7, 2, 12, 0, 0, TimeSpan.Zero);   // 06:00 in Boise
    private static readonly StationContext Station = new("COP-1", new DateTimeOffset(2025, 4, 1, 0, 0, 0, TimeSpan.Zero), HasNoClock: false);

    [Fact]
    public void Our_own_layout_needs_no_mapping()
    {
        IReadOnlyList<LoggerLine> lines = Guessed("received,at,name,unit,value\n2026-07-05T18:20:00Z,2026-07-02T06:00:00-06:00,tank/fill,/,0.41\n");

        lines.Should().Equal(new LoggerLine.Reading(2, new DateTimeOffset(2026, 7, 5, 18, 20, 0, TimeSpan.Zero), "tank/fill", Six, "/", 0.41));
    }

    [Fact]
    public void A_table_with_a_column_for_each_series_is_guessed()
    {
        const string file = """
            Logger 0417 at Dam Road
            Site clock: standard time

            Date;Time;Battery Voltage (V);Tank Fill [%];Air temperature (°F);vacuum uses;Remark
            07/02/2026;06:00:00;12,8;41;68;1042;ok
            07/02/2026;06:15:00;12,7;;69,8;1043;
            07/02/2026;06:30:00;12,7;42;70;1043;
            """;

        LayoutGuess guess = LayoutGuess.Of(file.Split('\n'), "America/Boise", ["tools/vacuum/uses"]);

        guess.Layout.Should().BeEquivalentTo(new LoggerFileLayout(
            ';', true, 3, true, LoggerTimeFormat.MonthFirst, "America/Boise", RepeatedHour.ByOrder, 0, 1, null, null, new LoggerColumns.Table(
            [
                new SeriesColumn(2, "battery/voltage", "V"), new SeriesColumn(3, "tank/fill", "%"), new SeriesColumn(4, "air/temperature", "°F"),
                new SeriesColumn(5, "tools/vacuum/uses", null),
            ])));
        Report(file, guess.Layout!).Measurements.Select(row => row.Measurement).Where(m => m.At <= Six.AddMinutes(15)).Should().BeEquivalentTo(
        [
            new Measurement("battery/voltage", Six, 12.8), new Measurement("tank/fill", Six, 0.41), new Measurement("air/temperature", Six, 20),
            new Measurement("tools/vacuum/uses", Six, 1042), new Measurement("battery/voltage", Six.AddMinutes(15), 12.7),
            new Measurement("air/temperature", Six.AddMinutes(15), 21), new Measurement("tools/vacuum/uses", Six.AddMinutes(15), 1043),
        ], options => options.Using<double>(context => context.Subject.Should().BeApproximately(context.Expectation, 1e-12)).WhenTypeIs<double>());
    }

    [Theory]
    [InlineData("1782993600\tsoil/temp\t18.5\n1782994500\tsoil/temp\t18.25", LoggerTimeFormat.UnixSeconds, '\t', false)]
    [InlineData("time,sensor,reading\n2026-07-02 06:00:00,soil/temp,18.5\n2026-07-02 06:15:00,soil/temp,18.25", LoggerTimeFormat.YearFirst, ',', true)]
    [InlineData("when|variable|units|result\n13.07.2026 06:00|soil/temp|Cel|18.5\n14.07.2026 06:15|soil/temp|Cel|18.25", LoggerTimeFormat.DayFirst, '|', true)]
    public void A_list_of_values_is_guessed(string file, LoggerTimeFormat format, char delimiter, bool hasHeader)
    {
        LoggerFileLayout layout = LayoutGuess.Of(file.Split('\n'), "America/Boise", []).Layout!;

        (layout.TimeFormat, layout.Delimiter, layout.HasHeader).Should().Be((format, delimiter, hasHeader));
        LoggerFileReader.Read(new StringReader(file), layout).Cast<LoggerLine.Reading>().Select(row => (row.Name, row.Value))
            .Should().Equal(("soil/temp", 18.5), ("soil/temp", 18.25));
    }

    [Theory]
    [InlineData("")]
    [InlineData("a photograph of the logger")]
    [InlineData("name,colour\nbrush,green\nvacuum,blue")]
    public void A_file_without_times_and_values_is_not_guessed(string file) =>
        LayoutGuess.Of(file.Split('\n'), "UTC", []).Layout.Should().BeNull();

    [Fact]
    public void A_line_that_cannot_be_read_is_told_with_its_number_and_stops_nothing()
    {
        const string file = """
            at,name,unit,value
            2026-07-02T12:00:00Z,tank/fill,/,0.41
            yesterday,tank/fill,/,0.41
            2026-07-02T12:15:00Z,tank/fill,/,much
            2026-07-02T12:15:00Z,tank/fill,/

            2026-07-02T12:15:00Z,"tank/fill,/,0.4
            2026-07-02T12:30:00Z,tank/fill,/,0.42
            """;

        IReadOnlyList<LoggerLine> lines = Guessed(file);

        lines.OfType<LoggerLine.Reading>().Select(row => row.Line).Should().Equal(2, 8);
        lines.OfType<LoggerLine.Fault>().Select(fault => (fault.Line, fault.Reason)).Should().Equal(
            (3, "'yesterday' is no RFC 3339 time such as 2026-07-08T13:05:00Z."),
            (4, "'much' is no number; a finite number is wanted."),
            (5, "4 values are wanted, but there are 3."),
            (7, "A quote is not closed on its line."));
    }

    [Fact]
    public void What_a_station_may_not_report_a_file_may_not_either()
    {
        const string file = """
            at,name,unit,value
            2026-07-02T12:00:00Z,tank/fill,V,0.41
            2026-07-02T12:00:00Z,battery/charge,%,140
            2024-07-02T12:00:00Z,tank/fill,/,0.41
            2026-07-09T12:00:00Z,tank/fill,/,0.41
            2026-07-02T12:00:00Z,battery/charge,%,98
            oops
            """;

        ReportReading.Report report = Report(file, LoggerFileLayout.Own("at,name,unit,value")!);

        report.Measurements.Should().ContainSingle().Which.Measurement.Should().Be(new Measurement("battery/charge", Six, 0.98));
        report.SetAside.Select(record => record.Index).Should().Equal(2, 3, 4, 5, 7);
        report.SetAside[^1].Raw.Should().Be("oops");
    }

    [Fact]
    public void A_line_of_another_station_or_of_an_unlawful_name_does_not_count()
    {
        const string file = """
            station,at,name,unit,value,received
            COP-1,2026-07-02T12:00:00Z,tank/fill,/,0.41,
            cop-1,2026-07-02T12:15:00Z,tank/fill,/,0.42,2026-07-02T18:00:00Z
            SOR-1,2026-07-02T12:30:00Z,tank/fill,/,0.43,
            COP-1,2026-07-02T12:45:00Z,tank fill,/,0.44,
            """;

        ReportReading.Report report = Report(file, LoggerFileLayout.Own(file.Split('\n')[0])!);

        report.Measurements.Select(row => row.Index).Should().Equal(2, 3);
        report.SetAside.Select(record => record.Reason).Should().Equal(
            "The line is of station 'SOR-1', and this is the file of COP-1.",
            "The name 'tank fill' may hold only the characters A-Z a-z 0-9 - : . / _ and begin with a letter or digit.");
    }

    [Fact]
    public void The_same_line_read_again_gives_the_same_text_so_that_it_is_kept_once()
    {
        const string file = "at,name,unit,value\n2026-07-02T12:00:00Z,tank/fill,V,0.41";
        LoggerFileLayout own = LoggerFileLayout.Own("at,name,unit,value")!;

        Report(file, own).SetAside[0].Raw.Should().Be(Report("\uFEFF" + file, own).SetAside[0].Raw);
    }

    private static IReadOnlyList<LoggerLine> Guessed(string file) =>
        [.. LoggerFileReader.Read(new StringReader(file), LayoutGuess.Of(file.Split('\n'), "America/Boise", []).Layout!)];

    private static ReportReading.Report Report(string file, LoggerFileLayout layout) =>
        LoggerFileReport.Of([.. LoggerFileReader.Read(new StringReader(file), layout)], Station, Six.AddDays(4));
}
