using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using MudBlazor;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Shell;

/// <summary>A page or a part of one that reads and saves: it knows who looks, and stops its work when they leave.</summary>
public abstract class LivePart : ComponentBase, IDisposable
{
    private readonly CancellationTokenSource _leaving = new();

    [CascadingParameter] private Task<AuthenticationState> Authentication { get; set; } = default!;

    [Inject] private ISnackbar Snackbar { get; set; } = default!;

    protected CancellationToken Leaving => _leaving.Token;

    protected Task<Viewer> ViewerAsync() => Viewer.FromAsync(Authentication);

    /// <summary>Tells that something is done, in a few words at the edge of the page.</summary>
    protected void Say(string sentence) => Snackbar.Add(sentence, Severity.Normal, options => options.HideIcon = true);

    protected void SayNotAllowed() =>
        Snackbar.Add("Nothing was saved: it is gone, or not for your account. Load the page anew.", Severity.Error, options => options.HideIcon = true);

    public void Dispose()
    {
        Dispose(disposing: true);
        GC.SuppressFinalize(this);
    }

    protected virtual void Dispose(bool disposing)
    {
        if (disposing)
        {
            _leaving.Cancel();
            _leaving.Dispose();
        }
    }
}
