using StationFleet.Web.Service.SignedLists;

namespace StationFleet.Web.Service;

public static class ServiceServices
{
    public static IServiceCollection AddService(this IServiceCollection services) => services
        .AddSingleton<TicketList>().AddSingleton<ListTickets>().AddSingleton<ListMyWork>().AddSingleton<ReadTicket>().AddSingleton<CountOpenTickets>()
        .AddSingleton<TicketDesk>().AddSingleton<VisitLog>()
        .AddSingleton<TakeTicket>().AddSingleton<ReleaseTicket>().AddSingleton<NoteOnTicket>().AddSingleton<CloseTicket>()
        .AddSingleton<SnoozeTicket>().AddSingleton<EndSnooze>()
        .AddSingleton<ReadSignedLists>().AddSingleton<SignList>();
}
