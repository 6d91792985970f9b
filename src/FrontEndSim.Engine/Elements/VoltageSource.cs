using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>
/// A voltage source: v(From) − v(To) = Volts(t) + SeriesOhms·i. Positive current flows from From through the source
/// to To, so a source that delivers power reads a negative current.
/// </summary>
/// <param name="Name">Part name; a sweep names the source it varies.</param>
/// <param name="From">Plus terminal.</param>
/// <param name="To">Minus terminal.</param>
/// <param name="Volts">The open-circuit voltage against time, V.</param>
public sealed record VoltageSource(string Name, string From, string To, Waveform Volts) : TwoTerminal(Name, From, To)
{
    /// <summary>Factor on the open-circuit voltage, nominally 1.</summary>
    public static readonly Parameter Scale = new Parameter<VoltageSource>("scale", "", _ => 1);

    /// <summary>Source resistance of a source that is not ideal, ohm.</summary>
    public static readonly Parameter SourceResistance = new Parameter<VoltageSource>("source resistance", "ohm", s => s.SeriesOhms);

    /// <summary>Source resistance, ohm; zero for an ideal source.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>
    /// Whether the source can only deliver current, as most regulators do; current pushed into it then lifts its node.
    /// </summary>
    public bool SourceOnly { get; init; }

    /// <summary>Whether a source that only delivers does so out of its minus terminal, as a negative supply: it then drops its node no
    /// further.</summary>
    public bool DeliversFromMinus { get; init; }

    /// <summary>
    /// When the source is connected: 1 for connected, 0 for open, against time; null for always.
    /// Needs a source resistance.
    /// </summary>
    public Waveform? Connected { get; init; }

    /// <summary>
    /// What turns a measured quantity into the open-circuit voltage; the waveform, or what a sweep sets, is then the quantity in its own
    /// unit. Null for a source that is driven by its voltage.
    /// </summary>
    public Characteristic? Law { get; init; }

    private bool IsIdeal => SeriesOhms == 0;

    internal override Element AtTimeZero() => this with { Volts = Volts.At(0), Connected = Connected is null ? null : Connected.At(0) };

    internal override IEnumerable<string> Problems() =>
    [
        .. Volts.Problems(), .. NotNegative("the source resistance", SeriesOhms, "ohm"), .. Connected?.Problems() ?? [],
        .. IsIdeal && !SourceOnly && Connected is not null
            ? ["a source that is connected for a time needs a source resistance above 0 ohm"] : Array.Empty<string>(),
    ];

    // A source that is open for some of the time is no way to ground that a node can rely on.
    internal override IEnumerable<(string, string)> DirectPaths() => Connected is null ? [(From, To)] : [];

    internal override IEnumerable<(string, string)> RigidPaths() => IsIdeal ? [(From, To)] : [];

    /// <summary>The node that an ideal source to ground holds, so that its voltage is known and no unknown; else null.</summary>
    internal string? DrivenNode => !IsIdeal || SourceOnly || From == To ? null : To == Circuit.Ground
        ? From : From == Circuit.Ground ? To : null;

    internal override Device<L> Bind<L>(Wiring wiring) => wiring.DriverOf(DrivenNode) == this
        ? new Driver<L>(this, wiring)
        : SourceOnly ? new Delivering<L>(this, wiring)
        : IsIdeal ? new Ideal<L>(this, wiring)
        : Connected is not null ? new Conditional<L>(this, wiring)
        : new Resistive<L>(this, wiring);

    private abstract class Source<L>(VoltageSource part) : Device<L>(part), IDrive<L> where L : struct, ILane<L>
    {
        private readonly Waveform _volts = part.Volts;
        private readonly Characteristic.Evaluation<L>? _law = part.Law is { } law ? new(law) : null;
        private L _scale = L.Of(1);

        /// <summary>What the open-circuit voltage changes by for a unit more of what drives the source.</summary>
        public L Gain(double t) => _law is null ? _scale : _scale * _law.Slope(Driving(t));

        protected L Ohms = L.Of(part.SeriesOhms);
        private L? _held;

        public virtual IEnumerable<Waveform> Waveforms => [_volts];

        public void Hold(L value) => _held = value;

        public override ref L Number(Parameter parameter)
        {
            if (parameter == Scale)
                return ref _scale;
            if (parameter == SourceResistance)
                return ref Ohms;
            if (_law is not null && _law.Holds(parameter))
                return ref _law.Error(parameter);
            return ref base.Number(parameter);
        }

        public override void Refresh(double kelvin) => _law?.Refresh(kelvin);

        /// <summary>What the source itself gives, less what its own resistance keeps.</summary>
        public override EnergyAccount Account(PartRecord record)
        {
            double taken = record.StaticPower.Integral() + (record.Exchange?.Integral() ?? 0);
            if (Ohms.Get(0) == 0)
                return new(-taken, 0, 0);
            double given = -record.Source!.Times(record.Current).Integral();
            return new(given, given + taken, 0);
        }

        public abstract void AddSensitivity(Iterate<L> at, L[] f);

        /// <summary>What it gives more than with its nominal scale.</summary>
        protected L Beyond(double t) => (_scale - L.Of(1)) * Unscaled(t);

        public L Value(double t) => _scale * Unscaled(t);

        private L Unscaled(double t) => _law is null ? Driving(t) : _law.Of(Driving(t));

        private L Driving(double t) => _held ?? L.Of(_volts.At(t));
    }

    /// <summary>The node is known: the source adds no equation. Its current is what the node's other parts draw.</summary>
    private sealed class Driver<L>(VoltageSource part, Wiring wiring) : Source<L>(part) where L : struct, ILane<L>
    {
        private readonly int _node = wiring.Node(part.DrivenNode!);
        private readonly L _sign = L.Of(part.To == Circuit.Ground ? 1 : -1);

        // It changes a known voltage: the slopes in that column say the rest.
        public override void AddSensitivity(Iterate<L> at, L[] f)
        {
        }

        public override L Current(Iterate<L> at) => -(_sign * at.F[_node]);
    }

    private sealed class Ideal<L>(VoltageSource part, Wiring wiring) : Source<L>(part) where L : struct, ILane<L>
    {
        private readonly BranchCurrent _at = new(wiring, part.From, part.To, part.Name);

        public override void LoadLinear(L[] g, L[] c) => _at.Incidence(g);

        public override bool HasSources => true;

        public override void LoadSources(double t, L ramp, L[] f) => f[_at.Row] -= ramp * Value(t);

        public override void AddSensitivity(Iterate<L> at, L[] f) => f[_at.Row] -= Gain(at.Time);

        public override L Current(Iterate<L> at) => at.X[_at.Row];
    }

    private sealed class Resistive<L>(VoltageSource part, Wiring wiring) : Source<L>(part) where L : struct, ILane<L>
    {
        private readonly Branch _at = new(wiring, wiring.Node(part.From), wiring.Node(part.To));

        public override void LoadLinear(L[] g, L[] c) => _at.Slope(g, L.Of(1) / Ohms);

        public override bool HasSources => true;

        public override void LoadSources(double t, L ramp, L[] f) => _at.Flow(f, -(ramp * Value(t) / Ohms));

        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin) =>
            [NoiseCurrent.Thermal(_at, 1 / Ohms.Get(0), kelvin)];

        public override void AddSensitivity(Iterate<L> at, L[] f) => _at.Flow(f, -(Gain(at.Time) / Ohms));

        public override L Current(Iterate<L> at) => (_at.Voltage(at.X) - Value(at.Time)) / Ohms;
    }

    /// <summary>i = −c(t)·(Volts − v)/R: linear, but for the time that it is connected.</summary>
    private sealed class Conditional<L>(VoltageSource part, Wiring wiring) : Source<L>(part) where L : struct, ILane<L>
    {
        private readonly VoltageSource _part = part;
        private readonly Branch _at = new(wiring, wiring.Node(part.From), wiring.Node(part.To), nonlinear: true);

        public override bool IsNonlinear => true;

        public override IEnumerable<Waveform> Waveforms => [_part.Volts, _part.Connected!];

        private L Siemens(Iterate<L> at) => L.Of(_part.Connected!.At(at.Time)) / Ohms;

        public override void LoadNonlinear(Iterate<L> at)
        {
            _at.Flow(at.F, Current(at));
            _at.Slope(at.G, Siemens(at));
        }

        public override void AddSensitivity(Iterate<L> at, L[] f) => _at.Flow(f, -(Gain(at.Time) * Siemens(at)));

        public override L Current(Iterate<L> at) => Siemens(at) * (_at.Voltage(at.X) - Value(at.Time));
    }

    /// <summary>
    /// A source that delivers d = ∓i and never takes: of its lift b = ±(v − Volts) + R·d and Z·(d + I0 + b/Rf) the smaller is zero. While
    /// it delivers it stands at its voltage, to rounding; lifted, it takes I0 + b/Rf, what the divider of a regulator's own feedback draws,
    /// so that without load it rests at its voltage as well, and the lift of a node that nothing else loads is known. The smaller of the
    /// two is rounded by the integrated logistic function (Chen and Mangasarian 1996), whose slopes lie between 0 and 1 wherever an
    /// iterate stands.
    /// </summary>
    private sealed class Delivering<L>(VoltageSource part, Wiring wiring) : Source<L>(part), IFollow<L> where L : struct, ILane<L>
    {
        private const double TakenAmps = 0.5e-6, DividerOhms = 10e6;

        // Makes a voltage of the current: a tenth of a milliampere weighs as much as a volt.
        private const double WeightOhms = 1e4;

        // Of a volt of lift, what the second of the two grows less than the first.
        private const double Share = 1 - WeightOhms / DividerOhms;

        // Without load the bend is thirty widths away: what is left of it, 1e-13 of a width, is less than rounding.
        private const double Width = WeightOhms * TakenAmps / 30;

        private readonly VoltageSource _part = part;
        private readonly BranchCurrent _at = new(wiring, part.From, part.To, part.Name, nonlinear: true);
        private readonly L _sign = L.Of(part.DeliversFromMinus ? -1 : 1);
        private L _volts; // as the sources stand at present, scaled by their ramp

        public override bool IsNonlinear => true;

        public override double KneeVolts => Width;

        public override IEnumerable<Waveform> Waveforms => _part.Connected is null ? [_part.Volts] : [_part.Volts, _part.Connected];

        public override bool HasSources => true;

        // The row's linear part is b, all that the source is while it delivers.
        public override void LoadLinear(L[] g, L[] c)
        {
            _at.Incidence(g, _sign);
            g[_at.Diagonal] -= _sign * Ohms;
        }

        public override void LoadSources(double t, L ramp, L[] f)
        {
            _volts = ramp * Value(t);
            f[_at.Row] -= _sign * _volts;
        }

        // Above its voltage the row says nothing of the node's: a guess from there would be thrown as far as the load lets it fall.
        public void Follow(L[] x, int first)
        {
            if (_at.From >= first)
                x[_at.From] += Beyond(0);
            else if (_at.To >= first)
                x[_at.To] -= Beyond(0);
        }

        /// <summary>b, and what is delivered, A.</summary>
        private L Lift(Iterate<L> at, out L delivered)
        {
            delivered = -(_sign * at.X[_at.Row]);
            return _sign * (at.X[_at.From] - at.X[_at.To] - _volts) + Ohms * delivered;
        }

        /// <summary>What b is larger by than the second of the two.</summary>
        private static L Excess(L lift, L delivered) => L.Of(Share) * lift - L.Of(WeightOhms) * (delivered + L.Of(TakenAmps));

        /// <summary>What the row holds beside b, and its slopes on d and on b.</summary>
        private L Beside(Iterate<L> at, out L onDelivered, out L onLift)
        {
            L one = L.Of(1), weight = L.Of(WeightOhms), connected = L.Of(_part.Connected?.At(at.Time) ?? 1);
            L lift = Lift(at, out L delivered);
            // The smaller of two is b less what b is larger by.
            L beyond = Saturation.Ramp(Excess(lift, delivered), Width, out L share);
            onDelivered = weight * (connected * share + (one - connected));
            onLift = -(connected * L.Of(Share) * share) - (one - connected);
            return -(connected * beyond) + (one - connected) * (weight * delivered - lift);
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            at.F[_at.Row] += Beside(at, out L onDelivered, out L onLift);
            _at.RowSlope(at.G, _sign * onLift);
            at.G[_at.Diagonal] -= _sign * (onDelivered + Ohms * onLift);
        }

        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges)
        {
            L connected = L.Of(_part.Connected?.At(at.Time) ?? 1);
            L before = _sign * step[_at.Row]; // less this much was delivered
            L lift = Lift(at, out L delivered), rise = _sign * (step[_at.To] - step[_at.From]) + Ohms * before;
            L excess = L.Of(Share) * rise - L.Of(WeightOhms) * before;
            if (!Saturation.TryRampRemainder(Excess(lift, delivered), excess, Width, out L beyond))
                return false;
            left[_at.Row] -= connected * beyond;
            return true;
        }

        public override void AddSensitivity(Iterate<L> at, L[] f)
        {
            Beside(at, out _, out L onLift);
            f[_at.Row] -= _sign * Gain(at.Time) * (L.Of(1) + onLift);
        }

        public override L Current(Iterate<L> at) => at.X[_at.Row];
    }
}
