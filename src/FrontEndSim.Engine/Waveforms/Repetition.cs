namespace FrontEndSim.Engine.Waveforms;

/// <summary>A stretch over which a value repeats: at any time of it, it is what it is a period later, if that is of the stretch
/// too.</summary>
/// <param name="Period">The period, s; 0 for any, of a value that stays.</param>
/// <param name="Until">The end of the stretch, s, itself excluded; infinity for none.</param>
public readonly record struct Repetition(double Period, double Until)
{
    /// <summary>Of a value that stays up to a time, s.</summary>
    public static Repetition Stays(double until) => new(0, until);
}
