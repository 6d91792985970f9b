using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>A current source: Amps(t) flow from From through the source to To, whatever the voltage.</summary>
/// <param name="Name">Part name; a sweep names the source it varies.</param>
/// <param name="From">Node that the current is drawn from.</param>
/// <param name="To">Node that it is pushed into.</param>
/// <param name="Amps">The current against time, A.</param>
public sealed record CurrentSource(string Name, string From, string To, Waveform Amps) : TwoTerminal(Name, From, To)
{
    /// <summary>Factor on the current against time, nominally 1.</summary>
    public static readonly Parameter Scale = new Parameter<CurrentSource>("scale", "", _ => 1);

    /// <summary>
    /// What turns a measured quantity into the current; the waveform, or what a sweep sets, is then the quantity in its own unit. Null for
    /// a source that is driven by its current.
    /// </summary>
    public Characteristic? Law { get; init; }

    internal override Element AtTimeZero() => this with { Amps = Amps.At(0) };

    internal override IEnumerable<string> Problems() => Amps.Problems();

    internal override IEnumerable<(string, string)> DirectPaths() => [];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(CurrentSource part, Wiring wiring) : Device<L>(part), IDrive<L> where L : struct, ILane<L>
    {
        private readonly int _from = wiring.Node(part.From), _to = wiring.Node(part.To);
        private readonly Characteristic.Evaluation<L>? _law = part.Law is { } law ? new(law) : null;
        private L _scale = L.Of(1);
        private L? _held;

        public override ref L Number(Parameter parameter)
        {
            if (parameter == Scale)
                return ref _scale;
            if (_law is not null && _law.Holds(parameter))
                return ref _law.Error(parameter);
            return ref base.Number(parameter);
        }

        public IEnumerable<Waveform> Waveforms => [part.Amps];

        public void Hold(L value) => _held = value;

        public L Value(double t) => _scale * (_law is null ? Driving(t) : _law.Of(Driving(t)));

        /// <summary>What the current changes by for a unit more of what drives the source.</summary>
        public L Gain(double t) => _law is null ? _scale : _scale * _law.Slope(Driving(t));

        private L Driving(double t) => _held ?? L.Of(part.Amps.At(t));

        public override void Refresh(double kelvin) => _law?.Refresh(kelvin);

        public override bool HasSources => true;

        public override void LoadSources(double t, L ramp, L[] f)
        {
            L i = ramp * Value(t);
            f[_from] += i;
            f[_to] -= i;
        }

        public void AddSensitivity(Iterate<L> at, L[] f)
        {
            L gain = Gain(at.Time);
            f[_from] += gain;
            f[_to] -= gain;
        }

        public override EnergyAccount Account(PartRecord record) => new(-record.StaticPower.Integral(), 0, 0);

        public override L Current(Iterate<L> at) => Value(at.Time);
    }
}
