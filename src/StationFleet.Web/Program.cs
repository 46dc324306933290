using StationFleet.Web.Accounts;
using StationFleet.Web.Boaters;
using StationFleet.Web.Counts;
using StationFleet.Web.Duty;
using StationFleet.Web.Fleet;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Grants;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;
using StationFleet.Web.Platform.Demo;
using StationFleet.Web.Sampling;
using StationFleet.Web.Seasons;
using StationFleet.Web.Service;
using StationFleet.Web.Service.Alone;
using StationFleet.Web.Service.Phone;
using StationFleet.Web.Service.Photographs;
using StationFleet.Web.Service.Routes;
using StationFleet.Web.Service.Visits;
using StationFleet.Web.Shell;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Watch;

WebApplicationBuilder builder = WebApplication.CreateBuilder(PlatformArguments.Normalise(args));

builder.AddPlatform();
builder.AddMail();
builder.AddTelemetry();
builder.AddWatch();
builder.AddGrants();
builder.AddAlone();
builder.Services.AddAccounts().AddShell().AddFleet().AddOffice().AddService().AddDuty().AddVisits().AddRoutes().AddSampling().AddCounts().AddRules().AddSeasons().AddBoaters();
builder.AddDemo();

WebApplication app = builder.Build();

app.UseDemo();
app.UsePlatform();
app.UseTelemetry();
app.MapPlatform();
app.MapTelemetry();
app.MapSampling();
app.MapSeasons();
app.MapRoutes();
app.MapBoaters();
app.MapPhone();
app.MapPhotographs();
app.MapGrants();
app.MapWatchQuality();
app.MapMail();
app.MapShell();

await app.PrepareAsync();
await app.RunAsync();
