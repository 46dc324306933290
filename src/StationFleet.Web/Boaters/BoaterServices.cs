namespace StationFleet.Web.Boaters;

public static class BoaterServices
{
    public static IServiceCollection AddBoaters(this IServiceCollection services)
    {
        services.AddOptions<PublicPageOptions>().BindConfiguration(PublicPageOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        return services
            .AddSingleton<PublicReportLimiter>().AddSingleton<SeasonForPublic>()
            .AddSingleton<ReadPublicPage>().AddSingleton<ReportProblem>().AddSingleton<ReadSign>()
            .AddSingleton<ListPublicReports>().AddSingleton<DecidePublicReport>();
    }
}
