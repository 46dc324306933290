using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;
using StationFleet.Web.Seasons;
using StationFleet.Web.Service;
using StationFleet.Web.Shell;

WebApplicationBuilder builder = WebApplication.CreateBuilder(PlatformArguments.Normalise(args));

builder.AddPlatform();
builder.AddMail();
builder.Services.AddAccounts().AddShell().AddFleet().AddService().AddSeasons();

WebApplication app = builder.Build();

app.UsePlatform();
app.MapPlatform();
app.MapAccounts();
app.MapSeasons();
app.MapShell();

await app.PrepareAsync();
await app.RunAsync();
