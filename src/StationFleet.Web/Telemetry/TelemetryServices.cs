namespace StationFleet.Web.Telemetry;

public static class TelemetryServices
{
    public static IServiceCollection AddTelemetry(this IServiceCollection services) => services
        .AddSingleton<StationKeys>()
        .AddSingleton<ReportLimiter>()
        .AddSingleton<AcceptReport>()
        .AddSingleton<ReportJournal>()
        .AddSingleton<ReportIntake>()
        .AddSingleton<ReadSetAside>().AddSingleton<RetrySetAside>().AddSingleton<DiscardSetAside>()
        .AddSingleton<ReadReports>().AddSingleton<TryPastedReport>();
}
