namespace StationFleet.Web.Platform.Demo;

/// <summary>How far the demo has come: first until pages may be shown, then with the older past.</summary>
public sealed class DemoProgress
{
    private readonly TaskCompletionSource _ready = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private (double Share, string Text) _past = (0, "The invented past is being loaded.");

    /// <summary>Ends when the newest month is there and pages may be shown.</summary>
    public Task Ready => _ready.Task;

    /// <summary>Raised when the progress changes, on any thread.</summary>
    public event Action? Changed;

    /// <summary>Share of the older past that is loaded, 0 to 1.</summary>
    public double Share => _past.Share;

    /// <summary>What is being loaded, as a sentence; empty when all is there.</summary>
    public string Text => _past.Text;

    internal void SetReady() => _ready.TrySetResult();

    internal void Show(double share, string text)
    {
        _past = (Math.Clamp(share, 0, 1), text);
        Changed?.Invoke();
    }
}
