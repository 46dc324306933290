using Microsoft.Extensions.DependencyInjection.Extensions;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Seasons;

namespace StationFleet.Web.Seasons;

public static class SeasonServices
{
    public static IServiceCollection AddSeasons(this IServiceCollection services)
    {
        services.AddOptions<SeasonOptions>()
            .BindConfiguration(SeasonOptions.Section)
            .Validate(options => options.IsValid, "Season:FirstDay and Season:LastDay are a month and a day, such as 05-01.")
            .ValidateOnStart();
        services.TryAddSingleton<StationSetupReader>();
        return services.AddSingleton<SeasonReader>().AddSingleton<SeasonReportReader>().AddSingleton<ReadSeasonRows>().AddSingleton<SummariseSeason>().AddSingleton<SubmitSeason>().AddSingleton<SeasonFiles>();
    }
}
