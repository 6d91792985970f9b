using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Tests.Uncertainty;

/// <summary>Measurement functions written as formulas.</summary>
internal static class Functions
{
    /// <summary>A function of one output, evaluated set by set.</summary>
    public static MeasurementFunction Of(int inputs, Func<double[], double> formula) => (draws, fill) =>
    {
        var outputs = new double[draws][];
        var values = new double[inputs];
        for (int draw = 0; draw < draws; draw++)
        {
            fill(draw, values);
            outputs[draw] = [formula(values)];
        }
        return outputs;
    };

    public static InputQuantity Normal(string name, double mean, double deviation, double freedom = double.PositiveInfinity) =>
        new(name, new NormalInput(mean, deviation)) { DegreesOfFreedom = freedom };

    public static InputQuantity Rectangular(string name, double low, double high) => new(name, new RectangularInput(low, high));
}
