namespace StationFleet.Web.Sampling;

public static class SamplingServices
{
    public static IServiceCollection AddSampling(this IServiceCollection services)
    {
        services.AddOptions<SamplingOptions>().BindConfiguration(SamplingOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        return services
            .AddSingleton<ListSamples>().AddSingleton<ReadSample>().AddSingleton<ReadTakeForm>().AddSingleton<TakeSamples>()
            .AddSingleton<ReadBench>().AddSingleton<SaveCounts>().AddSingleton<NewFinds>()
            .AddSingleton<SampleDesk>().AddSingleton<CorrectSample>().AddSingleton<CorrectCount>().AddSingleton<SavePiece>().AddSingleton<HandOver>()
            .AddSingleton<ListTaxa>().AddSingleton<SaveTaxon>().AddSingleton<SaveKnownTaxon>()
            .AddSingleton<ReadFinds>().AddSingleton<DecideFind>().AddSingleton<ReadLabels>()
            .AddSingleton<LaboratorySheet>().AddSingleton<ReadLaboratorySheet>().AddSingleton<BringLaboratorySheet>().AddSingleton<BuildArchive>()
            .AddSingleton<ReadEstimates>().AddSingleton<ReadSeasonCurve>().AddSingleton<PlanSampling>()
            .AddSingleton<ListPlanned>().AddSingleton<SavePlanned>().AddSingleton<AcceptCalendar>();
    }
}
