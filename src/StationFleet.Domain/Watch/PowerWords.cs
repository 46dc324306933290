using System.Globalization;
using StationFleet.Domain.Power;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Watch;

/// <summary>How battery and panel are, in words for the station's page.</summary>
public static class PowerWords
{
    /// <summary>The charge and where it goes; null when no charge is known.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="forecast">When it falls under its limit; null when that is not known.</param>
    /// <param name="reader">For whom.</param>
    public static string? Charge(StationFacts facts, ChargeForecast? forecast, Reader reader)
    {
        ArgumentNullException.ThrowIfNull(facts);
        if (facts.Charge is not { } charge)
        {
            return null;
        }

        return forecast is null
            ? $"{PowerSentences.Now(charge.Value, facts.Power.Source)}. How it goes on is told once a week of sun and load is known."
            : PowerSentences.Charge(new LowChargeEvidence(charge.Value, forecast.LimitShare, facts.Power.Source, forecast), reader);
    }

    /// <summary>How the panel compares with what it used to give; null when no panel is set up.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="power">Its battery and panel.</param>
    /// <param name="yesterday">The last whole local day.</param>
    public static string? Panel(StationFacts facts, PowerSetup? power, DateOnly yesterday)
    {
        ArgumentNullException.ThrowIfNull(facts);
        if (power is not { PanelWatts: > 0 })
        {
            return null;
        }

        if (facts.Power.IsDark)
        {
            return "Nothing comes from the panel though the sun is up.";
        }

        if (facts.Power.Tested is not [.., var last])
        {
            return "The panel has not been tested yet: that takes a day on which the battery asks for all that it has.";
        }

        string tested = last.Date == yesterday
            ? $"Tested yesterday: the panel gave {NumberWords.Percent(last.Share)} of its rating under a clear sky."
            : $"Not tested since {last.Date.ToString("d MMMM", CultureInfo.InvariantCulture)}: the battery was full, which is good news.";
        return facts.Power.PanelRatio is { } ratio
            ? $"{tested} At its best it gives {NumberWords.Percent(ratio)} of what it used to."
            : $"{tested} What is usual here is still being learned.";
    }
}
