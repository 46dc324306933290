namespace StationFleet.Web.Counts;

public static class CountServices
{
    public static IServiceCollection AddCounts(this IServiceCollection services) => services
        .AddSingleton<ReadCountForm>().AddSingleton<CountDesk>().AddSingleton<ReadShift>().AddSingleton<ReadShiftHours>().AddSingleton<ReadCounts>();
}
