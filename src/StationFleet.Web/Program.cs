using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Shell;

WebApplicationBuilder builder = WebApplication.CreateBuilder(PlatformArguments.Normalise(args));

builder.AddPlatform();
builder.Services.AddAccounts().AddShell().AddFleet();

WebApplication app = builder.Build();

app.UsePlatform();
app.MapPlatform();
app.MapAccounts();
app.MapShell();

await app.PrepareAsync();
await app.RunAsync();
