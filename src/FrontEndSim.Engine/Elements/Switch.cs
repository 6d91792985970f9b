using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>
/// A switch that time moves: closed at 1, open at 0, and in between its resistance passes from one to the other on a
/// logarithmic scale.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Closed">1 for closed, 0 for open, against time.</param>
public sealed record Switch(string Name, string From, string To, Waveform Closed) : TwoTerminal(Name, From, To)
{
    /// <summary>Contact resistance when closed, ohm.</summary>
    public double ClosedOhms { get; init; } = 0.1;

    /// <summary>Insulation resistance when open, ohm.</summary>
    public double OpenOhms { get; init; } = 1e9;

    internal override Element AtTimeZero() => this with { Closed = Closed.At(0) };

    internal override IEnumerable<string> Problems() =>
        [.. Closed.Problems(), .. Positive("the closed resistance", ClosedOhms, "ohm"),
            .. Positive("the open resistance", OpenOhms, "ohm")];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(Switch part, Wiring wiring) : Device<L>(part), IDrive<L> where L : struct, ILane<L>
    {
        private readonly Branch _at = new(wiring, wiring.Node(part.From), wiring.Node(part.To), nonlinear: true);
        private readonly double _logOpen = Math.Log(part.OpenOhms), _logClosed = Math.Log(part.ClosedOhms);
        private L? _held;
        private double _when = double.NaN; // the time that the conductance is of
        private L _siemens;

        public override bool IsNonlinear => true;

        public IEnumerable<Waveform> Waveforms => [part.Closed];

        public void Hold(L value) => (_held, _when) = (value, double.NaN);

        public L Value(double t) => _held ?? L.Of(part.Closed.At(t));

        private L Siemens(double t)
        {
            if (t != _when)
                (_when, _siemens) = (t, L.Exp(Value(t) * L.Of(_logOpen - _logClosed) - L.Of(_logOpen)));
            return _siemens;
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            L siemens = Siemens(at.Time);
            _at.Flow(at.F, siemens * _at.Voltage(at.X));
            _at.Slope(at.G, siemens);
        }

        public void AddSensitivity(Iterate<L> at, L[] f) =>
            _at.Flow(f, Siemens(at.Time) * L.Of(Math.Log(part.OpenOhms / part.ClosedOhms)) * _at.Voltage(at.X));

        public override L Current(Iterate<L> at) => Siemens(at.Time) * _at.Voltage(at.X);
    }
}
