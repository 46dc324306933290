using StationFleet.Domain.Power;

namespace StationFleet.Domain.Tests.Power;

public sealed class ClearSkyTests
{
    [Theory]
    [Source("B. Haurwitz 1945/1946; values asserted by pvlib-python, tests/test_clearsky.py (commit 6382338a)")]
    [InlineData(-20, 0)]
    [InlineData(-0.05, 0)]
    [InlineData(5, 48.6298687941956)]
    [InlineData(10, 135.741748091813)]
    [InlineData(30, 487.894132885425)]
    [InlineData(50, 778.766689344363)]
    [InlineData(90, 1035.09203253450)]
    public void HaurwitzWattsPerM2_matches_the_published_values(double elevationDeg, double expected)
    {
        // Sines instead of cosines of the zenith: the same to rounding.
        ClearSky.HaurwitzWattsPerM2(elevationDeg).Should().BeApproximately(expected, 1e-9);
    }

    [Theory]
    [Source("NOAA GML solar calculation spreadsheet, 40° N 105° W, 2010-06-21 00:06 UTC-7: −26.5537621192°, 1.0986711838°")]
    [InlineData("2010-06-21T00:06:00-07:00", -26.5537621192, 1.0986711838)]
    public void At_matches_the_spreadsheet_it_was_made_from(string at, double elevationDeg, double azimuthDeg)
    {
        SunPosition sun = SunPosition.At(DateTimeOffset.Parse(at, System.Globalization.CultureInfo.InvariantCulture), 40, -105);

        sun.ElevationDeg.Should().BeApproximately(elevationDeg, 1e-6);
        sun.AzimuthDeg.Should().BeApproximately(azimuthDeg, 1e-6);
    }

    [Fact]
    public void OnPanelWattsPerM2_is_the_level_value_for_a_level_panel_and_nought_at_night()
    {
        ClearSky.OnPanelWattsPerM2(new SunPosition(50, 120), 0, 180).Should().BeApproximately(ClearSky.HaurwitzWattsPerM2(50), 1e-9);
        ClearSky.OnPanelWattsPerM2(new SunPosition(-3, 120), 45, 180).Should().Be(0);
    }
}
