namespace StationFleet.Web.Seasons;

public static class SeasonServices
{
    public static IServiceCollection AddSeasons(this IServiceCollection services)
    {
        services.AddOptions<SeasonOptions>()
            .BindConfiguration(SeasonOptions.Section)
            .Validate(options => options.IsValid, "Season:FirstDay and Season:LastDay are a month and a day, such as 05-01.")
            .ValidateOnStart();
        return services.AddSingleton<Storage.Seasons.SeasonReader>().AddSingleton<SummariseSeason>().AddSingleton<SeasonFiles>();
    }
}
