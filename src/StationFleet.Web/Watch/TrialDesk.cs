namespace StationFleet.Web.Watch;

/// <summary>
/// Lets one trial run at a time on this server, away from the pages' threads, so that the intake keeps its breath. A person has one
/// trial: a newer one stops the older.
/// </summary>
public sealed class TrialDesk : IDisposable
{
    private readonly SemaphoreSlim _turn = new(1);
    private readonly Dictionary<string, CancellationTokenSource> _waitingOrRunning = new(StringComparer.Ordinal);

    /// <param name="userId">Whose trial it is.</param>
    /// <param name="trial">The trial.</param>
    /// <param name="cancel">Stops it.</param>
    /// <exception cref="OperationCanceledException">It was stopped, by the token or by a newer one.</exception>
    public async Task<T> RunAsync<T>(string userId, Func<CancellationToken, Task<T>> trial, CancellationToken cancel)
    {
        using CancellationTokenSource own = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        lock (_waitingOrRunning)
        {
            if (_waitingOrRunning.TryGetValue(userId, out CancellationTokenSource? older))
            {
                older.Cancel();
            }

            _waitingOrRunning[userId] = own;
        }

        try
        {
            await _turn.WaitAsync(own.Token);
            try
            {
                return await Task.Run(() => trial(own.Token), own.Token);
            }
            finally
            {
                _turn.Release();
            }
        }
        finally
        {
            lock (_waitingOrRunning)
            {
                if (_waitingOrRunning.GetValueOrDefault(userId) == own)
                {
                    _waitingOrRunning.Remove(userId);
                }
            }
        }
    }

    public void Dispose() => _turn.Dispose();
}
