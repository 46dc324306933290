namespace StationFleet.Storage.Telemetry;

/// <summary>What waits for the writer.</summary>
internal abstract class WriterWork
{
    // A caller's next step must not hold up the writer.
    private const TaskCreationOptions Elsewhere = TaskCreationOptions.RunContinuationsAsynchronously;

    internal sealed class Report(ReportToStore content) : WriterWork
    {
        private readonly TaskCompletionSource<WriteOutcome> _answer = new(Elsewhere);

        internal ReportToStore Content { get; } = content;

        internal Task<WriteOutcome> Done => _answer.Task;

        internal void Answer(WriteOutcome outcome) => _answer.SetResult(outcome);

        internal void Fail(Exception failure) => _answer.SetException(failure);
    }

    internal sealed class Chore(Action<WriterSession> action) : WriterWork
    {
        private readonly TaskCompletionSource _answer = new(Elsewhere);

        internal Task Done => _answer.Task;

        internal void Do(WriterSession session)
        {
            try
            {
                action(session);
                _answer.SetResult();
            }
            catch (Exception failure)
            {
                // Whatever it is, it belongs to the caller, and the writer goes on.
                _answer.SetException(failure);
            }
        }
    }
}
