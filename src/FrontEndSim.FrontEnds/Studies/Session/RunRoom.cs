namespace FrontEndSim.FrontEnds.Studies.Session;

/// <summary>
/// Room for runs through time. Each keeps all of its traces until it is read, so that no more go at once than there are processors, nor
/// than fit into the room: what does not fit waits. One run always goes, however much it needs; the engine bounds its record. Results do
/// not depend on it.
/// </summary>
internal static class RunRoom
{
    /// <summary>What all runs at a time may need, in steps times elements: about a gigabyte.</summary>
    public const long MostStepElements = 10_000_000;

    // Whoever waits looks so often whether it was cancelled, ms.
    private const int Patience = 50;

    private static readonly object Door = new();
    private static int _running;
    private static long _taken;

    /// <summary>Waits for room for a run.</summary>
    /// <param name="stepElements">What it is expected to take, in steps times elements.</param>
    /// <param name="cancel">Stops the wait.</param>
    /// <returns>Gives the room back when disposed of.</returns>
    public static IDisposable Enter(long stepElements, CancellationToken cancel)
    {
        stepElements = Math.Min(stepElements, MostStepElements);
        lock (Door)
        {
            while (_running > 0 && (_running >= Environment.ProcessorCount || _taken + stepElements > MostStepElements))
            {
                cancel.ThrowIfCancellationRequested();
                Monitor.Wait(Door, Patience);
            }
            _running++;
            _taken += stepElements;
        }
        return new Place(stepElements);
    }

    private sealed class Place(long stepElements) : IDisposable
    {
        public void Dispose()
        {
            lock (Door)
            {
                _running--;
                _taken -= stepElements;
                Monitor.PulseAll(Door);
            }
        }
    }
}
