using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Domain.Tests.Telemetry.LoggerFiles;

public sealed class LoggerClockTests
{
    [Theory]
    [Source("RFC 3339, section 5.8, examples")]
    [InlineData("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.520Z")]
    [InlineData("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57.000Z")]
    [InlineData("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.870Z")]
    public void RFC_3339_times_state_their_instant(string written, string instant) => Instants(LoggerTimeFormat.Rfc3339, "UTC", written).Should().Equal(instant);

    [Theory]
    [InlineData(LoggerTimeFormat.YearFirst, "2026-07-02 06:00")]
    [InlineData(LoggerTimeFormat.YearFirst, "2026-7-2T6:00:00.0")]
    [InlineData(LoggerTimeFormat.YearFirst, "2026/07/02 06:00:00")]
    [InlineData(LoggerTimeFormat.MonthFirst, "7/2/2026 6:00 AM")]
    [InlineData(LoggerTimeFormat.MonthFirst, "07/02/26 06:00:00")]
    [InlineData(LoggerTimeFormat.DayFirst, "2.7.2026 06:00")]
    [InlineData(LoggerTimeFormat.DayFirst, "02/07/2026 06:00:00")]
    public void A_local_time_is_taken_by_the_logger_s_clock(LoggerTimeFormat format, string written)
    {
        Instants(format, "America/Boise", written).Should().Equal("2026-07-02T12:00:00.000Z");
        Instants(format, "-07:00", written).Should().Equal("2026-07-02T13:00:00.000Z");
    }

    [Theory]
    [InlineData(LoggerTimeFormat.UnixSeconds, "1782993600")]
    [InlineData(LoggerTimeFormat.UnixSeconds, "1782993600.0004")]
    [InlineData(LoggerTimeFormat.UnixMilliseconds, "1782993600000")]
    public void Time_since_1970_needs_no_zone(LoggerTimeFormat format, string written) =>
        Instants(format, "America/Boise", written).Should().Equal("2026-07-02T12:00:00.000Z");

    [Fact]
    [Source("IANA time zone database: America/Boise goes back from 02:00 to 01:00 on 1 November 2026, at 08:00 UTC")]
    public void In_the_hour_that_comes_twice_the_order_of_the_lines_tells()
    {
        string[] written = ["2026-11-01 00:30", "2026-11-01 01:00", "2026-11-01 01:30", "2026-11-01 01:00", "2026-11-01 01:30", "2026-11-01 02:00"];
        string[] instants =
        [
            "2026-11-01T06:30:00.000Z", "2026-11-01T07:00:00.000Z", "2026-11-01T07:30:00.000Z",
            "2026-11-01T08:00:00.000Z", "2026-11-01T08:30:00.000Z", "2026-11-01T09:00:00.000Z",
        ];

        Instants(LoggerTimeFormat.YearFirst, "America/Boise", written).Should().Equal(instants);
        string[] newestFirst = ["2026-11-01 02:30", .. written.Reverse()];
        Instants(LoggerTimeFormat.YearFirst, "America/Boise", newestFirst).Skip(1).Should().Equal(instants.Reverse());
    }

    [Fact]
    public void In_the_hour_that_comes_twice_each_series_has_an_order_of_its_own()
    {
        // All of one series, then all of the other: going back to the second series is no turning back of the clock.
        string file = string.Join('\n', from name in (string[])["a", "b"] from minute in (string[])["00", "30"] select $"2026-11-01 01:{minute},{name},,1");

        Read(file, RepeatedHour.ByOrder).Select(row => row.At.ToString("HH:mm", null)).Should().Equal("07:00", "07:30", "07:00", "07:30");
    }

    [Theory]
    [InlineData(RepeatedHour.First, "07:15")]
    [InlineData(RepeatedHour.Second, "08:15")]
    public void A_time_that_comes_twice_can_be_taken_as_stated(RepeatedHour stated, string utc) =>
        Read("2026-11-01 01:15,a,,1", stated).Single().At.ToString("HH:mm", null).Should().Be(utc);

    [Fact]
    [Source("IANA time zone database: America/Boise goes forward from 02:00 to 03:00 on 8 March 2026")]
    public void A_time_that_the_clocks_skip_is_told()
    {
        LoggerLine fault = LoggerFileReader.Read(new StringReader("2026-03-08 02:30,a,,1"), Layout(RepeatedHour.ByOrder)).Single();

        fault.Should().BeOfType<LoggerLine.Fault>().Which.Reason.Should()
            .Be("The clocks of America/Boise skip 02:30 on 8 March 2026: the logger's clock goes by another zone, or by an offset that never changes.");
    }

    [Theory]
    [InlineData("America/Boise", true)]
    [InlineData("UTC", true)]
    [InlineData("-07:00", true)]
    [InlineData("+5:30", true)]
    [InlineData("+15:00", false)]
    [InlineData("Boise time", false)]
    [InlineData("", false)]
    public void A_zone_is_an_IANA_name_or_an_offset(string text, bool isZone) => (LoggerZone.Find(text) is not null).Should().Be(isZone);

    private static LoggerFileLayout Layout(RepeatedHour repeated, LoggerTimeFormat format = LoggerTimeFormat.YearFirst, string zone = "America/Boise") => new(
        ',', HasDecimalComma: false, LinesBefore: 0, HasHeader: false, format, zone, repeated, 0, null, null, null, new LoggerColumns.Listed(1, 2, 3));

    private static IEnumerable<LoggerLine.Reading> Read(string file, RepeatedHour repeated) =>
        LoggerFileReader.Read(new StringReader(file), Layout(repeated)).Cast<LoggerLine.Reading>();

    private static IEnumerable<string> Instants(LoggerTimeFormat format, string zone, params string[] written) =>
        LoggerFileReader.Read(new StringReader(string.Join('\n', written.Select(time => $"{time},a,,1"))), Layout(RepeatedHour.ByOrder, format, zone))
            .Cast<LoggerLine.Reading>().Select(row => row.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", null));
}
