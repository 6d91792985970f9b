using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>A capacitance that follows a measured quantity: q = C(x(t))·v, so that a change of the quantity at a standing voltage drives a
/// current too.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Quantity">What is measured, in its own unit, against time.</param>
/// <param name="Law">Its capacitance by the quantity, F.</param>
public sealed record SensingCapacitor(string Name, string From, string To, Waveform Quantity, Characteristic Law)
    : TwoTerminal(Name, From, To)
{
    internal override Element AtTimeZero() => this with { Quantity = Quantity.At(0) };

    internal override IEnumerable<string> Problems() =>
        [.. Quantity.Problems(), .. Positive("the capacitance", Law.Of(Quantity.At(0), 25, []), "F")];

    internal override IEnumerable<(string, string)> DirectPaths() => [];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(SensingCapacitor part, Wiring wiring) : SensingDevice<L>(part, part.Quantity, part.Law)
        where L : struct, ILane<L>
    {
        // While its quantity stands still it is a plain capacitor.
        private readonly bool _isStill = part.Quantity is Constant;
        private readonly Branch _plates = new(wiring, wiring.Node(part.From), wiring.Node(part.To), part.Quantity is not Constant);

        public override bool IsNonlinear => !_isStill;

        public override void LoadLinear(L[] g, L[] c)
        {
            if (_isStill)
                _plates.Slope(c, Law.Of(Value(0)));
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            if (!at.WithCharges)
                return;
            L farads = Law.Of(Value(at.Time));
            _plates.Flow(at.Q, farads * _plates.Voltage(at.X));
            _plates.Slope(at.C, farads);
        }

        // At rest no current flows, whatever its capacitance is.
        public override void AddSensitivity(Iterate<L> at, L[] f)
        {
        }

        public override L Current(Iterate<L> at) => L.Of(0);

        public override L Charge(Iterate<L> at) => Law.Of(Value(at.Time)) * _plates.Voltage(at.X);
    }
}
