using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Platform;
using StationFleet.Web.Shell;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Watch;

WebApplicationBuilder builder = WebApplication.CreateBuilder(PlatformArguments.Normalise(args));

builder.AddPlatform();
builder.Services.AddAccounts().AddShell().AddFleet().AddOffice().AddRules().AddTelemetry();

WebApplication app = builder.Build();

app.UsePlatform();
app.MapPlatform();
app.MapShell();
app.MapTelemetry();

await app.PrepareAsync();
await app.RunAsync();
