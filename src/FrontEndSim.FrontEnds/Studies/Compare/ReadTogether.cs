using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>Readings at one place.</summary>
/// <param name="Values">The values of the sensor.</param>
/// <param name="Places">Which reading was taken at which of them.</param>
internal abstract record ReadTogether(double[] Values, (int Reading, int Point)[] Places)
{
    /// <summary>Whether each draw is a run in time.</summary>
    public virtual bool RunsInTime => false;

    /// <summary>What is read by draw and value.</summary>
    public abstract double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set, CancellationToken cancel);

    /// <summary>What one step of the instrument is at a reading, and how far it may be off beside that.</summary>
    /// <param name="point">Place of the value.</param>
    /// <param name="nominal">What is read of the circuit as designed.</param>
    /// <param name="cancel">Stops the solver.</param>
    public abstract (double Step, double Error) Uncertainty(int point, double nominal, CancellationToken cancel);
}
