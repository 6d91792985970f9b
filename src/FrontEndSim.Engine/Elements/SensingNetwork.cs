using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>Resistances that what is measured moves together: the two parts of a potentiometer's track, the four arms of a
/// bridge.</summary>
/// <param name="Name">Part name; a sweep names it to vary the quantity.</param>
/// <param name="Quantity">What is measured, in its own unit, against time.</param>
/// <param name="Law">A share, by the quantity, from which each resistance follows.</param>
/// <param name="Arms">The resistances, at least one; voltage and current are reported of the first.</param>
public sealed record SensingNetwork(string Name, Waveform Quantity, Characteristic Law, ImmutableArray<SensingArm> Arms) : Element(Name)
{
    /// <summary>All the resistances together, as a share of what they are.</summary>
    public static readonly Parameter Scale = new Parameter<SensingNetwork>("scale of the resistances", "", _ => 1);

    // The end of a track is a contact, not nothing.
    private const double LeastOhms = 1e-3;

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [.. Arms.SelectMany(a => new[] { a.From, a.To }).Distinct()];

    internal override (string Plus, string Minus) Across => (Arms[0].From, Arms[0].To);

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { Arms = [.. Arms.Select(a => a with { From = renamed(a.From), To = renamed(a.To) })] };

    /// <summary>Whether two are alike, arm by arm.</summary>
    public bool Equals(SensingNetwork? other) =>
        other is not null && Name == other.Name && Quantity.Equals(other.Quantity) && Law.Equals(other.Law)
            && Arms.SequenceEqual(other.Arms);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Name, Quantity, Law, Arms.Length);

    internal override Element AtTimeZero() => this with { Quantity = Quantity.At(0) };

    internal override IEnumerable<string> Problems() =>
        [.. Quantity.Problems(), .. Finite("the share", Law.Of(Quantity.At(0), 25, []), ""),
            .. Arms.SelectMany(a => NotNegative("a resistance", a.Ohms + a.OhmsPerShare * Law.Of(Quantity.At(0), 25, []), "ohm"))];

    internal override IEnumerable<(string, string)> DirectPaths() => Arms.Select(a => (a.From, a.To));

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(SensingNetwork part, Wiring wiring) : SensingDevice<L>(part, part.Quantity, part.Law)
        where L : struct, ILane<L>
    {
        private readonly Branch[] _at =
            [.. part.Arms.Select(a => new Branch(wiring, wiring.Node(a.From), wiring.Node(a.To), nonlinear: true))];

        private L _scale = L.Of(1);

        public override ref L Number(Parameter parameter)
        {
            if (parameter == Scale)
                return ref _scale;
            return ref base.Number(parameter);
        }

        private L Ohms(int arm, L share) =>
            L.Max(_scale * (L.Of(part.Arms[arm].Ohms) + L.Of(part.Arms[arm].OhmsPerShare) * share), L.Of(LeastOhms));

        public override void LoadNonlinear(Iterate<L> at)
        {
            L share = Law.Of(Value(at.Time));
            for (int k = 0; k < _at.Length; k++)
            {
                L siemens = L.Of(1) / Ohms(k, share);
                _at[k].Flow(at.F, siemens * _at[k].Voltage(at.X));
                _at[k].Slope(at.G, siemens);
            }
        }

        public override void AddSensitivity(Iterate<L> at, L[] f)
        {
            L share = Law.Of(Value(at.Time)), slope = Law.Slope(Value(at.Time));
            for (int k = 0; k < _at.Length; k++)
            {
                L ohms = Ohms(k, share);
                _at[k].Flow(f, -(_at[k].Voltage(at.X) * slope * _scale * L.Of(part.Arms[k].OhmsPerShare) / (ohms * ohms)));
            }
        }

        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin)
        {
            L share = Law.Of(Value(at.Time));
            return [.. _at.Select((branch, k) => NoiseCurrent.Thermal(branch, 1 / Ohms(k, share).Get(0), kelvin))];
        }

        public override L Current(Iterate<L> at) => _at[0].Voltage(at.X) / Ohms(0, Law.Of(Value(at.Time)));

        public override L? Watts(Iterate<L> at)
        {
            L share = Law.Of(Value(at.Time)), sum = default;
            for (int k = 0; k < _at.Length; k++)
            {
                L volts = _at[k].Voltage(at.X);
                sum += volts * volts / Ohms(k, share);
            }
            return sum;
        }
    }
}

/// <summary>One of the resistances.</summary>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Ohms">Resistance where the share is zero, ohm.</param>
/// <param name="OhmsPerShare">What a share of one adds, ohm; negative where it takes away.</param>
public readonly record struct SensingArm(string From, string To, double Ohms, double OhmsPerShare);
