namespace FrontEndSim.Engine.Elements;

/// <summary>
/// How a quantity that is measured becomes electrical: a function of the quantity, in a unit of its own, that gives volts, amperes or
/// ohm. A source or resistor with a characteristic is driven by the quantity in place of the voltage or current.
/// </summary>
public abstract record Characteristic
{
    /// <summary>So many numbers of a characteristic may be off.</summary>
    public const int ErrorCount = 4;

    /// <summary>The numbers that may be off, each 0 where it is right; what one stands for is the characteristic's own.</summary>
    public static IReadOnlyList<Parameter> Errors { get; } = [.. Enumerable.Range(0, ErrorCount).Select(k => new ErrorParameter(k))];

    /// <summary>The volts, amperes or ohm.</summary>
    /// <param name="quantity">What is measured, in its own unit.</param>
    /// <param name="celsius">Temperature of the circuit, °C.</param>
    /// <param name="errors">The numbers that are off, <see cref="ErrorCount"/> of them; empty for none.</param>
    public abstract double Of(double quantity, double celsius, ReadOnlySpan<double> errors);

    /// <summary>What it changes by for a unit more of the quantity.</summary>
    /// <inheritdoc cref="Of"/>
    public virtual double Slope(double quantity, double celsius, ReadOnlySpan<double> errors)
    {
        // A central difference over a step that balances its own error against rounding.
        double step = 1e-5 * Math.Max(1, Math.Abs(quantity));
        return (Of(quantity + step, celsius, errors) - Of(quantity - step, celsius, errors)) / (2 * step);
    }

    /// <summary>An error of a characteristic by its place among <see cref="Errors"/>.</summary>
    private sealed class ErrorParameter(int index) : Parameter($"error {index + 1} of the characteristic", "")
    {
        public override double? NominalOf(Element part) =>
            part is VoltageSource { Law: not null } or CurrentSource { Law: not null } or SensingResistor
                or SensingCapacitor or SensingNetwork
                or SensingShare
                ? 0 : null;

        public int Index => index;
    }

    /// <summary>The state of a characteristic in a kernel: its errors in each lane, and the temperature.</summary>
    internal sealed class Evaluation<L>(Characteristic law) where L : struct, ILane<L>
    {
        private readonly L[] _errors = new L[ErrorCount];
        private readonly Evaluator _of = law.Of, _slope = law.Slope;
        private double _celsius;

        public bool Holds(Parameter parameter) => parameter is ErrorParameter;

        public ref L Error(Parameter parameter) => ref _errors[((ErrorParameter)parameter).Index];

        public void Refresh(double kelvin) => _celsius = kelvin - Constants.ZeroCelsius;

        public L Of(L quantity) => Each(quantity, _of);

        public L Slope(L quantity) => Each(quantity, _slope);

        private L Each(L quantity, Evaluator of)
        {
            Span<double> errors = stackalloc double[ErrorCount];
            L result = default;
            for (int lane = 0; lane < L.Width; lane++)
            {
                for (int k = 0; k < ErrorCount; k++)
                    errors[k] = _errors[k].Get(lane);
                result = result.With(lane, of(quantity.Get(lane), _celsius, errors));
            }
            return result;
        }

        private delegate double Evaluator(double quantity, double celsius, ReadOnlySpan<double> errors);
    }
}
