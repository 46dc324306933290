using System.Net;
using System.Net.Sockets;

namespace StationFleet.Browser.Tests;

/// <summary>What lies between a phone and the server: a port that passes everything on, or nothing, or requests but no answers.</summary>
internal sealed class Wire : IAsyncDisposable
{
    internal enum Mood
    {
        Up,
        Down,

        /// <summary>The server hears and does what was asked; its answer is lost on the way.</summary>
        Deaf,
    }

    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _ending = new();
    private readonly HashSet<Socket> _open = [];
    private readonly int _server;
    private readonly Task _accepting;
    private volatile Mood _mood;

    public Wire(int serverPort)
    {
        _server = serverPort;
        _listener.Start();
        _accepting = AcceptAsync();
    }

    public string Url => $"http://localhost:{((IPEndPoint)_listener.LocalEndpoint).Port}";

    public void Set(Mood mood)
    {
        _mood = mood;
        if (mood == Mood.Down)
        {
            CutAll();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _ending.CancelAsync();
        _listener.Stop();
        CutAll();
        await _accepting.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        _ending.Dispose();
    }

    private void CutAll()
    {
        lock (_open)
        {
            foreach (Socket socket in _open)
            {
                socket.Close(0); // a reset, as when the signal goes
            }

            _open.Clear();
        }
    }

    private async Task AcceptAsync()
    {
        while (true)
        {
            Socket phone = await _listener.AcceptSocketAsync(_ending.Token);
            _ = JoinAsync(phone);
        }
    }

    private async Task JoinAsync(Socket phone)
    {
        Socket server = new(SocketType.Stream, ProtocolType.Tcp);
        try
        {
            if (_mood == Mood.Down)
            {
                return;
            }

            lock (_open)
            {
                _open.Add(phone);
                _open.Add(server);
            }

            await server.ConnectAsync(IPAddress.Loopback, _server, _ending.Token);
            await Task.WhenAny(PassAsync(phone, server, isAnswer: false), PassAsync(server, phone, isAnswer: true));
        }
        catch (Exception failure) when (failure is SocketException or ObjectDisposedException or OperationCanceledException)
        {
            // The other end is gone: so is this one.
        }
        finally
        {
            lock (_open)
            {
                _open.Remove(phone);
                _open.Remove(server);
            }

            phone.Close(0);
            server.Close(0);
        }
    }

    private async Task PassAsync(Socket from, Socket to, bool isAnswer)
    {
        byte[] part = new byte[16 * 1024];
        while (await from.ReceiveAsync(part, _ending.Token) is > 0 and var length)
        {
            if (_mood == Mood.Down || (isAnswer && _mood == Mood.Deaf))
            {
                return;
            }

            await to.SendAsync(part.AsMemory(0, length), _ending.Token);
        }
    }
}
