namespace FrontEndSim.Engine.Elements;

/// <summary>
/// The leakage of an input: a current to the lower of its supplies, or out of the upper one where it is negative, as long as there is a
/// voltage that drives it. Reversed junctions leak, and within a few tens of millivolts of none they leak no more (Sze, the saturation
/// current of a junction): an input that nothing else holds drifts to a supply, and never beyond.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Node">The input.</param>
/// <param name="Low">The lower supply, which a positive current flows to.</param>
/// <param name="High">The upper supply, which a negative one comes from; null if unknown: that current then has no end.</param>
/// <param name="Amps">The current out of the node, A; negative for into it.</param>
public sealed record InputLeakage(string Name, string Node, string Low, string? High, double Amps) : Element(Name)
{
    /// <summary>Factor on the current, nominally 1; negative for the other way.</summary>
    public static readonly Parameter Scale = new Parameter<InputLeakage>("scale", "", _ => 1);

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => High is null ? [Node, Low] : [Node, Low, High];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { Node = renamed(Node), Low = renamed(Low), High = High is null ? null : renamed(High) };

    internal override IEnumerable<string> Problems() => Finite("the leakage", Amps, "A");

    internal override IEnumerable<(string, string)> DirectPaths() => [];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        // Up to a supply the whole current flows, as sheets state it for all voltages between them; beyond it ends within some kT/q.
        private const double FadingVolts = 25e-3;

        private readonly Branch _down, _up;
        private readonly bool _hasHigh;
        private readonly L _amps;
        private L _scale = L.Of(1), _lastDown = L.Of(1), _lastUp = L.Of(1);

        public Behaviour(InputLeakage part, Wiring wiring) : base(part)
        {
            int node = wiring.Node(part.Node);
            _down = new Branch(wiring, node, wiring.Node(part.Low), nonlinear: true);
            _hasHigh = part.High is not null;
            if (part.High is { } high)
                _up = new Branch(wiring, wiring.Node(high), node, nonlinear: true);
            _amps = L.Of(part.Amps);
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == Scale)
                return ref _scale;
            return ref base.Number(parameter);
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => FadingVolts;

        public override void ForgetLimits() => (_lastDown, _lastUp) = (L.Of(1), L.Of(1));

        public override void LoadNonlinear(Iterate<L> at)
        {
            L zero = L.Of(0), amps = _amps * _scale, down = L.Max(zero, amps), up = L.Max(zero, -amps);
            Load(at, _down, down, ref _lastDown);
            if (_hasHigh)
                Load(at, _up, up, ref _lastUp);
            else
                _down.Flow(at.F, -up);
        }

        // Where it is all there, or gone, before and after.
        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges) =>
            IsFlat(_down.Voltage(at.X), _down.Voltage(step)) && (!_hasHigh || IsFlat(_up.Voltage(at.X), _up.Voltage(step)));

        private static bool IsFlat(L v, L step) =>
            L.AllBelow(-L.Min(v, v + step), double.Epsilon) || L.AllBelow(L.Max(v, v + step), -FadingVolts);

        // From one side where the current does not change with the voltage to the other, an iterate stops in between, where it does.
        private static void Load(Iterate<L> at, Branch branch, L amps, ref L last)
        {
            L v = branch.Voltage(at.X), limited = v;
            if (!at.Exact)
            {
                L zero = L.Of(0), gone = L.Of(-FadingVolts), half = L.Of(-FadingVolts / 2);
                L rising = L.Less(last, gone, L.Less(zero, v, half, v), v), falling = L.Less(zero, last, L.Less(v, gone, half, v), v);
                limited = L.Less(last, gone, rising, falling);
                if (!L.Same(limited, v))
                    at.Limited = true;
            }
            last = limited;
            L share = Share(limited, out L slope);
            branch.Flow(at.F, amps * (share + slope * (v - limited)));
            branch.Slope(at.G, amps * slope);
        }

        private static L Share(L v, out L slope)
        {
            L one = L.Of(1), x = L.Max(L.Of(0), L.Min(one, one + v * L.Of(1 / FadingVolts)));
            slope = L.Of(6 / FadingVolts) * x * (one - x);
            return x * x * (L.Of(3) - L.Of(2) * x);
        }

        private (L Down, L Up) Currents(Iterate<L> at)
        {
            L zero = L.Of(0), amps = _amps * _scale;
            L down = L.Max(zero, amps) * Share(_down.Voltage(at.X), out _);
            return (down, L.Max(zero, -amps) * (_hasHigh ? Share(_up.Voltage(at.X), out _) : L.Of(1)));
        }

        public override L Current(Iterate<L> at)
        {
            var (down, up) = Currents(at);
            return down - up;
        }

        public override L? Watts(Iterate<L> at)
        {
            var (down, up) = Currents(at);
            return down * _down.Voltage(at.X) + up * (_hasHigh ? _up.Voltage(at.X) : -_down.Voltage(at.X));
        }
    }
}
