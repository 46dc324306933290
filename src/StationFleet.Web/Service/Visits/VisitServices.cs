namespace StationFleet.Web.Service.Visits;

public static class VisitServices
{
    public static IServiceCollection AddVisits(this IServiceCollection services) => services
        .AddSingleton<PumpOutQuestions>().AddSingleton<AnswerPumpOut>().AddSingleton<ReadVisitSites>().AddSingleton<SaveDisposalSite>()
        .AddSingleton<ReadParts>().AddSingleton<SavePart>().AddSingleton<MoveParts>();
}
