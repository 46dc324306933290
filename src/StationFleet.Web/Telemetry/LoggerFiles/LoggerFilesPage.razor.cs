using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Telemetry.LoggerFiles;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>From a chosen file over how it is read to its import. Leaving the page before that gives the file up.</summary>
public sealed partial class LoggerFilesPage
{
    private string _station = "";
    private string? _wrongStation;
    private string? _wrongFile;
    private string? _path;
    private string _fileName = "";
    private long _bytes;
    private double? _arrived;
    private bool _isStarting;
    private bool _asksForLayout;
    private LookAtLoggerFile.View? _look;
    private LayoutFields? _fields;
    private WrongFields _wrong = WrongFields.None;
    private IReadOnlyList<LoggerLine> _preview = [];
    private LoggerFileLayout? _layout;
    private LoggerFileSurvey? _survey;
    private double? _surveyed;
    private CancellationTokenSource _looking = new();

    /// <summary>What the page shows; kept from prerendering, so that it is read once.</summary>
    [PersistentState] public ListLoggerFiles.View? Shown { get; set; }

    protected override async Task OnInitializedAsync() => Shown ??= await List.HandleAsync(await ViewerAsync(), Leaving);

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _looking.Cancel();
            _looking.Dispose();
            Forget();
        }

        base.Dispose(disposing);
    }

    private TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(Shown!.ZoneId);

    private static string Headline(ListLoggerFiles.View view) => (view.Imports.Count, view.MayImport) switch
    {
        (0, true) => "No logger file was brought yet: a card pulled from a silent station fills its gap.",
        (0, false) => "No logger file was brought yet.",
        (1, _) => "One logger file was brought.",
        (var count, _) => $"{NumberWords.Capital(NumberWords.Count(count))} logger files were brought.",
    };

    private static string Share(double share) => share.ToString("0.###", CultureInfo.InvariantCulture);

    private Task ChooseStationAsync(string code)
    {
        (_station, _wrongStation) = (code, null);
        return LookAsync(null);
    }

    private async Task TakeAsync(InputFileChangeEventArgs chosen)
    {
        GiveUp();
        IBrowserFile file = chosen.File;
        (_wrongFile, _fileName, _bytes) = (null, Path.GetFileName(file.Name), file.Size);
        if (file.Size > UploadFolder.MostBytes)
        {
            _wrongFile = $"The file has {NumberWords.Figures(Math.Ceiling(file.Size / 1048576.0))} MB; at most {UploadFolder.MostMegabytes} are taken. Cut it in parts, or use stationfleet import.";
            return;
        }

        try
        {
            _arrived = 0;
            await using Stream content = file.OpenReadStream(UploadFolder.MostBytes, Leaving);
            _path = await Uploads.KeepAsync(content, file.Size, new Seen(share => InvokeAsync(() => Show(ref _arrived, share))), Leaving);
        }
        catch (IOException)
        {
            _wrongFile = "The file did not arrive whole. Choose it again.";
        }
        finally
        {
            _arrived = null;
        }

        await LookAsync(null);
    }

    private Task DivideByAsync(string delimiter) => LookAsync(delimiter.Length == 1 ? delimiter[0] : null);

    private async Task LookAsync(char? delimiter)
    {
        (_look, _fields) = (null, null);
        if (_path is null)
        {
            return;
        }

        if (Shown!.Stations.FirstOrDefault(station => station.Code == _station) is not { } station)
        {
            _wrongStation = "Choose the station.";
            return;
        }

        _look = await Look.HandleAsync(await ViewerAsync(), station.Id, _path, delimiter, Leaving);
        if (_look is null)
        {
            SayNotAllowed();
        }
        else if (_look.Layout is { } layout)
        {
            _fields = LayoutFields.Of(layout, _look.Headings, _look.Zone.Id, _look.Names);
            _asksForLayout = LookAtLoggerFile.Preview(_path, layout).Any(line => line is LoggerLine.Fault);
            await ReadAgainAsync();
        }
    }

    private async Task ReadAgainAsync()
    {
        await _looking.CancelAsync();
        _looking.Dispose();
        _looking = CancellationTokenSource.CreateLinkedTokenSource(Leaving);
        CancellationToken cancel = _looking.Token;
        (_survey, _surveyed) = (null, null);
        _layout = _fields!.Read(out _wrong);
        if (_layout is null || _path is null || _look is null)
        {
            return;
        }

        _preview = LookAtLoggerFile.Preview(_path, _layout);
        _surveyed = 0;
        StateHasChanged();
        try
        {
            LoggerFileSurvey survey = await Look.SurveyAsync(_look, _path, _layout, new Seen(share => InvokeAsync(() => Show(ref _surveyed, share))), cancel);
            cancel.ThrowIfCancellationRequested();
            _survey = survey;
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Something else was chosen meanwhile, and is being looked at.
        }
    }

    private async Task ImportAsync()
    {
        _isStarting = true;
        int? import = await Importing.HandleAsync(
            await ViewerAsync(), new ImportLoggerFile.Command(_look!, _survey!, _layout!, _path!, _fileName, _bytes), Leaving);
        _isStarting = false;
        if (import is null)
        {
            SayNotAllowed();
            return;
        }

        _path = null;   // the import has it now
        Navigation.NavigateTo($"/office/logger-files/{import.Value.ToString(CultureInfo.InvariantCulture)}");
    }

    private void GiveUp()
    {
        _looking.Cancel();
        Forget();
        (_look, _fields, _survey, _surveyed, _wrong) = (null, null, null, null, WrongFields.None);
    }

    private void Forget()
    {
        if (_path is not null)
        {
            UploadFolder.Forget(_path);
            _path = null;
        }
    }

    private void Show(ref double? shown, double share)
    {
        if (shown is { } before && share - before >= 0.02)
        {
            shown = share;
            StateHasChanged();
        }
    }

    /// <summary>Tells progress as it happens; <see cref="Progress{T}"/> would tell it out of order.</summary>
    private sealed class Seen(Action<double> tell) : IProgress<double>
    {
        public void Report(double value) => tell(value);
    }
}
