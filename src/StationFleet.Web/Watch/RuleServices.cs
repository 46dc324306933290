using StationFleet.Storage.Service;

namespace StationFleet.Web.Watch;

public static class RuleServices
{
    public static IServiceCollection AddRules(this IServiceCollection services) => services
        .AddSingleton<ReadRules>().AddSingleton<SaveRules>().AddSingleton<ReadWatchQuality>().AddSingleton<SaveFieldBudget>()
        .AddSingleton<WhatPeopleDidReader>().AddSingleton<TrialDesk>().AddSingleton<RunTrial>().AddSingleton<TryRules>().AddSingleton<TrialPicture>();
}
