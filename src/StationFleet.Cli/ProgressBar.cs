namespace StationFleet.Cli;

/// <summary>A bar on the error stream while long work lasts; silent when the output goes to a file or a pipe.</summary>
internal sealed class ProgressBar(TextWriter error, bool isTerminal)
{
    private const int Width = 40;
    private int _shown = -1;

    public void Show(double share)
    {
        int percent = (int)(Math.Clamp(share, 0, 1) * 100);
        if (!isTerminal || percent == _shown)
        {
            return;
        }

        _shown = percent;
        int filled = percent * Width / 100;
        error.Write($"\r[{new string('#', filled)}{new string(' ', Width - filled)}] {percent,3} %");
    }

    public void Done()
    {
        if (isTerminal && _shown >= 0)
        {
            error.WriteLine();
        }
    }
}
