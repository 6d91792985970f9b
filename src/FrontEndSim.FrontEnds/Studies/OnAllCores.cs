using System.Runtime.ExceptionServices;

namespace FrontEndSim.FrontEnds.Studies;

/// <summary>Jobs that do not depend on each other.</summary>
internal static class OnAllCores
{
    /// <summary>Does each once. What one of them fails with is thrown as it was: a cancellation before all else, and of several failures
    /// that of the first job, whichever came first.</summary>
    /// <param name="count">How many.</param>
    /// <param name="cancel">Stops between jobs.</param>
    /// <param name="job">Does the one of that number, 0 to <paramref name="count"/> less one.</param>
    public static void For(int count, CancellationToken cancel, Action<int> job)
    {
        var failures = new Exception?[count];
        Parallel.For(0, count, new ParallelOptions
        {
            CancellationToken = cancel,
            // Left to itself it takes a thread more whenever one waits, and with it a job more that holds all that it works on.
            MaxDegreeOfParallelism = Environment.ProcessorCount,
        }, k =>
        {
            try
            {
                job(k);
            }
            catch (Exception e)
            {
                failures[k] = e;
            }
        });
        if ((failures.OfType<OperationCanceledException>().FirstOrDefault() ?? failures.FirstOrDefault(f => f is not null)) is { } failure)
            ExceptionDispatchInfo.Throw(failure);
    }
}
