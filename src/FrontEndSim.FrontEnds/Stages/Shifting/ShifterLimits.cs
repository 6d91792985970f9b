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
            throw TooHigh(wanted.High);
        if (wanted.Low < Lowest)
            throw TooLow(wanted.Low);
        // The first stage's output is the negative of the second's input, at least in part.
        if (-wanted.High * LeastShare < Lowest)
            throw TooLow(-wanted.High * LeastShare);
        if (-wanted.Low * LeastShare > Highest)
            throw TooHigh(-wanted.Low * LeastShare);
    }

    /// <summary>The second stage's gain is at most this, so the first stage's output is at least its inverse of the output.</summary>
    public const double MostSecondGain = 2;

    private const double LeastShare = 1 / MostSecondGain;

    /// <summary>Whether the first stage can deliver what a second stage of that gain needs for the span wanted.</summary>
    public bool FirstStageReaches(Span wanted, double secondGain) =>
        -wanted.High / secondGain >= Lowest && -wanted.Low / secondGain <= Highest;

    private StageProblemException TooHigh(double volts) => new("maps",
        Stops(volts, Positive) with { High = new(Highest, Unit.Volts) });

    private StageProblemException TooLow(double volts) => new("maps",
        Stops(volts, Negative) with { Low = new(Lowest, Unit.Volts) });

    private Problem Stops(double volts, Rail rail) => new(ProblemKind.OutputStops, Type.Name, rail.Name, new(volts, Unit.Volts))
    {
        Wanted = new(rail.Volts.Value, Unit.Volts),
    };
}
