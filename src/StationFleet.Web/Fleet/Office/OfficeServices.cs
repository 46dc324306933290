namespace StationFleet.Web.Fleet.Office;

public static class OfficeServices
{
    public static IServiceCollection AddOffice(this IServiceCollection services) => services
        .AddSingleton<ReadOffice>().AddSingleton<ReadChoices>()
        .AddSingleton<ListOfficeStations>().AddSingleton<ReadStationSetup>().AddSingleton<SaveStation>()
        .AddSingleton<SaveTool>().AddSingleton<SaveTank>().AddSingleton<SaveCalibration>().AddSingleton<SavePower>().AddSingleton<RemoveStationPart>()
        .AddSingleton<MoveStation>().AddSingleton<CorrectPlacement>().AddSingleton<RemovePlacement>().AddSingleton<Winterize>().AddSingleton<MakeKey>().AddSingleton<RevokeKey>()
        .AddSingleton<ListAccesses>().AddSingleton<ReadAccess>().AddSingleton<SaveAccess>().AddSingleton<SaveClosure>().AddSingleton<RemoveClosure>()
        .AddSingleton<ListKnownDays>().AddSingleton<SaveKnownDays>().AddSingleton<RemoveKnownDays>()
        .AddSingleton<ListAgencies>().AddSingleton<SaveAgency>();
}
