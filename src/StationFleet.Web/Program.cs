using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Shell;
using StationFleet.Web.Telemetry;

WebApplicationBuilder builder = WebApplication.CreateBuilder(PlatformArguments.Normalise(args));

builder.AddPlatform();
builder.Services.AddAccounts().AddShell().AddFleet().AddTelemetry();

WebApplication app = builder.Build();

app.UsePlatform();
app.MapPlatform();
app.MapAccounts();
app.MapShell();
app.MapTelemetry();

await app.PrepareAsync();
await app.RunAsync();
