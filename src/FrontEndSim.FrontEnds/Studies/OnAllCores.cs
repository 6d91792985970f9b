using System.Runtime.ExceptionServices;

namespace FrontEndSim.FrontEnds.Studies;

/// <summary>Jobs that do not depend on each other.</summary>
internal static class OnAllCores
{
    /// <summary>Does each once. What one of them fails with is thrown as it was, a cancellation before all else.</summary>
    /// <param name="count">How many.</param>
    /// <param name="cancel">Stops between jobs.</param>
    /// <param name="job">Does the one of that number, 0 to <paramref name="count"/> less one.</param>
    public static void For(int count, CancellationToken cancel, Action<int> job)
    {
        try
        {
            Parallel.For(0, count, new ParallelOptions { CancellationToken = cancel }, job);
        }
        catch (AggregateException many)
        {
            ExceptionDispatchInfo.Throw(many.InnerExceptions.OfType<OperationCanceledException>().FirstOrDefault()
                ?? many.InnerExceptions[0]);
        }
    }
}
