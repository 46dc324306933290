using StationFleet.Web.Service.Guiding;
using StationFleet.Web.Service.SignedLists;
using StationFleet.Web.Service.Stations;

namespace StationFleet.Web.Service;

public static class ServiceServices
{
    public static IServiceCollection AddService(this IServiceCollection services) => services
        .AddSingleton<TicketList>().AddSingleton<ListTickets>().AddSingleton<ListMyWork>().AddSingleton<ReadTicket>().AddSingleton<CountOpenTickets>()
        .AddSingleton<TicketDesk>().AddSingleton<VisitLog>()
        .AddSingleton<TakeTicket>().AddSingleton<ReleaseTicket>().AddSingleton<NoteOnTicket>().AddSingleton<CloseTicket>().AddSingleton<TellProgress>()
        .AddSingleton<ReadStationShort>().AddSingleton<ReadGuidance>().AddSingleton<SaveGuidance>()
        .AddSingleton<SnoozeTicket>().AddSingleton<EndSnooze>()
        .AddSingleton<ReadSignedLists>().AddSingleton<SignList>();
}
