namespace FrontEndSim.FrontEnds.Studies.Session;

/// <summary>How much was run, in steps times elements, which is about what the time goes by: the same on every machine. Safe to use from
/// several threads.</summary>
internal sealed class Work
{
    private long _stepElements;

    /// <summary>Steps of transients times elements of their circuits, all together.</summary>
    public long StepElements => Interlocked.Read(ref _stepElements);

    /// <summary>Adds what was run.</summary>
    public void Add(long stepElements) => Interlocked.Add(ref _stepElements, stepElements);
}
