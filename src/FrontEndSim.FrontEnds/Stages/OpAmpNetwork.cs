using FrontEndSim.Engine.Elements;
using MathNet.Numerics.LinearAlgebra;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>A resistor into one input of an op amp, from a fixed voltage or from the stage's input.</summary>
/// <param name="Ohms">Resistance of the whole branch, source resistance included, ohm, above zero.</param>
/// <param name="Volts">Voltage at its far end, V; not used where it is the input.</param>
/// <param name="IsInput">Whether its far end is the input of the stage.</param>
internal sealed record Leg(double Ohms, double Volts, bool IsInput = false)
{
    public double Siemens => 1 / Ohms;
}

/// <summary>
/// One op amp with resistors into its plus input, resistors into its minus input and one from its output back to the minus
/// input: every stage with a single op amp is a case of it.
/// </summary>
/// <param name="Plus">Resistors into the plus input, at least one.</param>
/// <param name="Minus">Resistors into the minus input; none for a follower.</param>
/// <param name="FeedbackOhms">Feedback resistor, ohm; 0 for a wire, and then <paramref name="Minus"/> has to be empty.</param>
internal sealed record OpAmpNetwork(ImmutableArray<Leg> Plus, ImmutableArray<Leg> Minus, double FeedbackOhms)
{
    /// <summary>Gain from the plus input: 1 + Rf·ΣG.</summary>
    public double NoiseGain => 1 + FeedbackOhms * Minus.Sum(l => l.Siemens);

    /// <summary>Parallel of the resistors at the plus input, ohm.</summary>
    public double PlusOhms => 1 / Plus.Sum(l => l.Siemens);

    /// <summary>Parallel of the resistors at the minus input and the feedback resistor, ohm.</summary>
    public double MinusOhms => FeedbackOhms == 0 ? 0 : 1 / (Minus.Sum(l => l.Siemens) + 1 / FeedbackOhms);

    /// <summary>
    /// An ideal op amp holds its inputs equal: v+ = ΣGv/ΣG, vout = (1 + Rf·ΣG−)·v+ − Rf·Σ(G−·v−).
    /// </summary>
    public LinearExpectation Ideal()
    {
        double sum = 0, gain = 0, offset = 0, noiseGain = NoiseGain;
        foreach (var leg in Plus)
        {
            sum += leg.Siemens;
            if (leg.IsInput)
                gain += leg.Siemens;
            else
                offset += leg.Siemens * leg.Volts;
        }
        (gain, offset) = (noiseGain * gain / sum, noiseGain * offset / sum);
        foreach (var leg in Minus)
        {
            if (leg.IsInput)
                gain -= FeedbackOhms * leg.Siemens;
            else
                offset -= FeedbackOhms * leg.Siemens * leg.Volts;
        }
        return new(gain, offset);
    }

    /// <summary>
    /// The same with the op amp's finite gain, offset, bias currents, input and output resistance, inside its limits:
    /// Kirchhoff's current law at both inputs and the output, and y = A·(v+ − v− + Vos) behind the output resistance.
    /// </summary>
    public LinearExpectation Expected(OpAmpModel model)
    {
        double plusAmps = model.BiasAmps + model.OffsetAmps / 2, minusAmps = model.BiasAmps - model.OffsetAmps / 2;
        double between = 1 / model.InputOhms, drive = 1 / model.OutputOhms;
        double Output(double input)
        {
            // Unknowns: plus input, minus input, output. A follower's minus input is its output.
            var a = Matrix<double>.Build.Dense(3, 3);
            var b = Vector<double>.Build.Dense(3);
            foreach (var leg in Plus)
            {
                a[0, 0] += leg.Siemens;
                b[0] += leg.Siemens * Far(leg, input);
            }
            a[0, 0] += between;
            a[0, 1] -= between;
            b[0] -= plusAmps;
            a[2, 0] -= drive * model.OpenLoopGain;
            a[2, 1] += drive * model.OpenLoopGain;
            a[2, 2] += drive;
            b[2] += drive * model.OpenLoopGain * model.OffsetVolts;
            if (FeedbackOhms == 0)
            {
                (a[1, 1], a[1, 2]) = (1, -1);
                a[2, 2] += between; // the input resistance and the bias current load the output
                a[2, 0] -= between;
                b[2] -= minusAmps;
            }
            else
            {
                double back = 1 / FeedbackOhms;
                foreach (var leg in Minus)
                {
                    a[1, 1] += leg.Siemens;
                    b[1] += leg.Siemens * Far(leg, input);
                }
                a[1, 1] += between + back;
                a[1, 0] -= between;
                a[1, 2] -= back;
                b[1] -= minusAmps;
                a[2, 2] += back;
                a[2, 1] -= back;
            }
            return a.Solve(b)[2];
        }
        double zero = Output(0);
        return new(Output(1) - zero, zero);
    }

    private static double Far(Leg leg, double input) => leg.IsInput ? input : leg.Volts;
}
