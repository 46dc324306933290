namespace StationFleet.Web.Duty;

public static class DutyServices
{
    public static IServiceCollection AddDuty(this IServiceCollection services)
    {
        services.AddOptions<DutyOptions>().BindConfiguration(DutyOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        return services.AddSingleton<CallPeople>()
            .AddSingleton<ReadRoster>().AddSingleton<SaveDuty>().AddSingleton<SaveAbsence>().AddSingleton<RemoveFromRoster>();
    }
}
