using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>How far an op amp's output can go between two rails at their nominal voltages, V.</summary>
internal sealed record ShifterLimits(OpAmpType Type, Rail Positive, Rail Negative)
{
    public double Highest => Positive.Volts.Value - Type.Model.DropHighVolts;

    public double Lowest => Negative.Volts.Value + Type.Model.DropLowVolts;

    /// <summary>Refuses a mapping whose output the second op amp cannot reach.</summary>
    public void CheckOutput(Span wanted)
    {
        if (wanted.High > Highest)
            throw OutOfReach(wanted.High, Highest, Positive, "higher");
        if (wanted.Low < Lowest)
            throw OutOfReach(wanted.Low, Lowest, Negative, "lower");
        // The first stage's output is the negative of the second's input, at least in part.
        if (-wanted.High * LeastShare < Lowest)
            throw OutOfReach(-wanted.High * LeastShare, Lowest, Negative, "lower");
        if (-wanted.Low * LeastShare > Highest)
            throw OutOfReach(-wanted.Low * LeastShare, Highest, Positive, "higher");
    }

    /// <summary>The second stage's gain is at most this, so the first stage's output is at least its inverse of the output.</summary>
    public const double MostSecondGain = 2;

    private const double LeastShare = 1 / MostSecondGain;

    /// <summary>Whether the first stage can deliver what a second stage of that gain needs for the span wanted.</summary>
    public bool FirstStageReaches(Span wanted, double secondGain) =>
        -wanted.High / secondGain >= Lowest && -wanted.Low / secondGain <= Highest;

    private StageProblemException OutOfReach(double volts, double limit, Rail rail, string way) => new("maps",
        $"An output of {V(volts)} is needed, but {Type.Name} on rail {rail.Name} ({V(rail.Volts.Value)}) stops at {V(limit)}.",
        $"Take a {way} rail, an op amp that comes nearer to its rails, or a smaller span.");

    private static string V(double volts) => SiText.Format(volts, "V");
}
