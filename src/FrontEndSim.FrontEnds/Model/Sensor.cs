using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>A sensor: what is measured, in its own unit, and how it becomes a voltage, a resistance or a current at a node.</summary>
/// <param name="Name">Name of the sensor.</param>
/// <param name="Node">The node that it drives; a current flows into it, a resistance ends there.</param>
/// <param name="Span">The range of use of what is measured, in <see cref="UnitText"/>: its voltage without load where it has no
/// law.</param>
/// <param name="SourceOhms">Source resistance, ohm: in series with a voltage or a resistance, beside a current; zero for none.</param>
public sealed record Sensor(string Name, string Node, Span Span, double SourceOhms)
{
    /// <summary>Its other terminal.</summary>
    public string Other { get; init; } = Circuit.Ground;

    /// <summary>What is measured, in a word: "temperature".</summary>
    public string Quantity { get; init; } = PlainVoltage;

    /// <summary>Symbol of the unit in which it is measured: "°C", "mm".</summary>
    public string UnitText { get; init; } = "V";

    /// <summary>How that becomes electrical; null for a sensor that is given by its voltage and follows no rail.</summary>
    public SensorLaw? Law { get; init; }

    /// <summary>How it is wired to what it gives a share of; null for one that gives volts, ohm or amperes.</summary>
    public SensorWiring? Wiring { get; init; }

    /// <summary>How it says that it has failed; null where it does not.</summary>
    public AlarmLevels? Alarms { get; init; }

    /// <summary>That it alternates, so that its span is one of instants; null for one that does not.</summary>
    public Alternation? Alternation { get; init; }

    /// <summary>What the mains bring into its line; null where that is not said.</summary>
    public Hum? Hum { get; init; }

    /// <summary>The wire to the node that its other terminal is drawn at; null where it stands there itself.</summary>
    public ReturnWire? Return { get; init; }

    /// <summary>That it is a contact, 0 for open and 1 for closed; null for another sensor.</summary>
    public Contact? Contact { get; init; }

    /// <summary>That it tells what it measures by how often its pulses come; null for one that does not.</summary>
    public PulseTrain? Pulses { get; init; }

    /// <summary>Whether it has two states, 0 and 1, in the place of a span.</summary>
    public bool HasStates => Contact is not null || Pulses is not null;

    /// <summary>The span of what has two states.</summary>
    public static Span States { get; } = new(0, 1);

    /// <summary>Name of the source whose sine excites it, so that its capacitance shows; null for one that is no capacitance.</summary>
    public string? ExcitedBy { get; init; }

    /// <summary>Whether what it gives lasts: a charge and a capacitance show only in what alternates.</summary>
    public bool ShowsAtRest => Output != Unit.Coulomb && Output != Unit.Farad;

    /// <summary>Whether it gives an alternating voltage that kills: from 50 V rms on (IEC 61140, from memory).</summary>
    internal bool GivesDangerousVolts => Alternation is not null && ShowsAtRest && Output == Unit.Volts
        && Math.Abs(OutputAt(Span.High)) >= 50 * Math.Sqrt(2);

    /// <summary>What its other node stands at; null where something else holds it.</summary>
    public CommonMode? CommonMode { get; init; }

    /// <summary>How far it can drive its current; null where that is not said, or where it gives none.</summary>
    public Compliance? Compliance { get; init; }

    /// <summary>The largest current, either way, that its output or sensing resistance withstands, A;
    /// null where that is not said.</summary>
    public double? WithstandsAmps { get; init; }

    /// <summary>The power that its own resistance, track or bridge dissipates for ever, W; null where that is not said.</summary>
    public double? RatedWatts { get; init; }

    /// <summary>What counts as a measurement, in its own unit: its span, and beyond it what its alarm levels leave to
    /// measurements.</summary>
    public Span MeasuringSpan
    {
        get
        {
            if (Alarms is not { } alarms || Law is not StraightLaw law)
                return Span;
            double first = law.QuantityAt(alarms.Measuring.Low), last = law.QuantityAt(alarms.Measuring.High);
            return new(Math.Min(Span.Low, Math.Min(first, last)), Math.Max(Span.High, Math.Max(first, last)));
        }
    }

    /// <summary>Its dissipation constant, W/K: what it dissipates over this is so much warmer than what it measures; null where it is not
    /// given.</summary>
    public double? WattsPerKelvin { get; init; }

    /// <summary>The same where a stage says it.</summary>
    public double? StageWattsPerKelvin { get; init; }

    // A small bead in still air (common practice, no source): others are better.
    private const double LeastWattsPerKelvin = 1e-3;

    /// <summary>
    /// By how much what it dissipates warms it above what it measures, K: of a resistance that measures a temperature, by its dissipation
    /// constant or, where that is not given, by that of a small bead in still air; zero for others.
    /// </summary>
    /// <param name="watts">What it dissipates, W.</param>
    public double SelfHeating(double watts) => HeatsItself
        ? watts / (WattsPerKelvin ?? StageWattsPerKelvin ?? LeastWattsPerKelvin) : 0;

    /// <summary>Whether what it dissipates moves what it measures.</summary>
    public bool HeatsItself => Output == Unit.Ohm && UnitText == "°C";

    /// <summary>Capacitance between its terminals, F; zero for none.</summary>
    public double Farads { get; init; }

    /// <summary>The longest that it takes from one end of its span to the other, s, above zero; null where that is not known.</summary>
    public double? EdgeSeconds { get; init; }

    // What is measured creeps: where it passes a level it does so as slowly as this, and slower (common practice, no source).
    private const double CreepingSeconds = 1;

    /// <summary>
    /// The longest that it takes from one end of its span to the other, s: what is written, or a second of something measured that has
    /// neither states nor a frequency; null for a plain voltage or a contact of which nothing is written.
    /// </summary>
    public double? SlowestSeconds =>
        EdgeSeconds ?? (HasStates || Alternation is not null || Quantity == PlainVoltage ? null : CreepingSeconds);

    // What a sensor measures of which no more than its voltage is said.
    private const string PlainVoltage = "voltage";

    /// <summary>Ripple that rides on its voltage; null for none.</summary>
    public Ripple? Ripple { get; init; }

    /// <summary>What it gives: volts, ohm, amperes, farads or coulombs, or a plain share of another voltage.</summary>
    public Unit Output => IsVoltage ? Unit.Volts : Law!.Output;

    /// <summary>Whether it is given by its voltage alone, which may be a share of a rail's.</summary>
    public bool IsVoltage => Law is null || Wiring is ShareOfRail { IsOfVoltage: true };

    /// <summary>Its terminals.</summary>
    public ImmutableArray<string> Nodes => [Node, Other, .. Wiring?.Nodes ?? []];

    /// <summary>The same with its wires to one node led to another.</summary>
    internal Sensor Rewired(string from, string to) => this with
    {
        Node = Node == from ? to : Node,
        Other = Other == from ? to : Other,
        Wiring = Wiring?.Rewired(from, to),
    };

    /// <summary>What it gives, V, ohm or A, for what it measures, without load.</summary>
    /// <param name="quantity">What is measured, in its own unit.</param>
    /// <param name="celsius">Temperature of the circuit, °C.</param>
    public double OutputAt(double quantity, double celsius = 25) => IsVoltage ? quantity : Law!.At(quantity, celsius);

    /// <summary>
    /// The sensor as a stage sees it that is designed for volts: by the span of its voltage alone. Null where it gives no voltage against
    /// ground.
    /// </summary>
    public Sensor? AsVoltage()
    {
        if (IsVoltage)
            return this with { Law = null, Wiring = null };
        double low = OutputAt(Span.Low), high = OutputAt(Span.High);
        return Output != Unit.Volts || low == high ? null
            : this with { Span = new Span(Math.Min(low, high), Math.Max(low, high)), Law = null, UnitText = "V", Quantity = "voltage" };
    }

    /// <summary>What it may be off by.</summary>
    public IEnumerable<ErrorSource> ErrorSources() => [.. OwnErrors(), .. Wiring?.ErrorSources(Name) ?? []];

    /// <summary>Whether anything else is off than a track as a whole, of which nothing says that it is straight.</summary>
    internal bool HasOwnError => OwnErrors().Any();

    private IEnumerable<ErrorSource> OwnErrors() => [.. Law?.ErrorSources(Name) ?? [], .. Return?.ErrorSources(Name) ?? [],
        .. CommonMode is { Volts.Width: > 0 } mode ? [mode.ErrorSource(Name)] : Array.Empty<ErrorSource>(),
        .. SourceOhms > 0 ? SourceError() : []];

    /// <summary>How far its source resistance may be off, a fraction either way; null where that is not written.</summary>
    public double? SourceTolerance { get; init; }

    private IEnumerable<ErrorSource> SourceError()
    {
        bool isLeads = Wiring is null && Output == Unit.Ohm;
        var usual = isLeads ? UsualSpread.Leads : UsualSpread.SensorSource;
        string what = Name + (isLeads ? " leads" : " source");
        return ErrorSource.Scale(SourceTolerance is null ? $"{what} ({usual.Text} taken)" : what, ErrorKind.Sensor,
            SourceTolerance ?? usual.Amount, SourceNumber);
    }

    // Which number of its elements its source resistance is.
    private VariedNumber SourceNumber =>
        Wiring is not null and not ShareOfRail || Output == Unit.Farad ? new(Name + ".source", Resistor.Resistance)
        : Wiring is not null ? new(Name, SensingShare.SourceResistance)
        : Output == Unit.Ohm ? new(Name, SensingResistor.LeadResistance)
        : Output == Unit.Amps ? new(Name + ".resistance", Resistor.Resistance) : new(Name, VoltageSource.SourceResistance);

    /// <summary>What stands in series with its line at one instant, V; and what flows into it through a capacitance, A.</summary>
    private double InstantVolts { get; init; }

    /// <inheritdoc cref="InstantVolts"/>
    private double InstantAmps { get; init; }

    /// <summary>Whether its line brings anything with it that stands at either of two ends.</summary>
    public bool HasLine => Return is { OffsetVolts: > 0 } or { Amps.Width: > 0 } || CommonMode is { Volts.Width: > 0 } || Hum is not null;

    /// <summary>The same with all that its line brings at an end, and how much that is above the middle: the voltage in series with it, or
    /// the current where nothing else is there.</summary>
    /// <param name="high">At the upper end, else at the lower one.</param>
    /// <param name="humShare">How much of the crest of hum is there as well.</param>
    internal (Sensor Sensor, Quantity By) Lifted(bool high, double humShare)
    {
        double sign = high ? 1 : -1, crest = sign * humShare * (Hum?.Crest ?? 0);
        double wire = Return is { } r ? r.OffsetVolts + r.Ohms * (r.Amps?.Width ?? 0) / 2 : 0;
        double apart = wire + (CommonMode?.Volts.Width ?? 0) / 2;
        bool isThrough = Hum is { Farads: not null };
        return (this with
        {
            Return = Return?.At(high),
            CommonMode = CommonMode?.At(high),
            InstantVolts = isThrough ? 0 : crest,
            InstantAmps = isThrough ? crest : 0,
        }, isThrough && apart == 0 ? new(crest, Unit.Amps) : new((isThrough ? 0 : crest) + sign * apart, Unit.Volts));
    }

    internal IEnumerable<Element> ToElements(double quantity)
    {
        if (InstantAmps != 0)
        {
            yield return new CurrentSource(Name + ".line hum", Circuit.Ground, Node, InstantAmps);
            foreach (var element in (this with { InstantAmps = 0 }).ToElements(quantity))
                yield return element;
            yield break;
        }
        if (InstantVolts != 0)
        {
            string line = Name + ".line";
            yield return new VoltageSource(Name + ".line hum", Node, line, InstantVolts);
            foreach (var element in (Rewired(Node, line) with { InstantVolts = 0 }).ToElements(quantity))
                yield return element;
            yield break;
        }
        if (CommonMode is { } mode)
            yield return mode.ToElement(Name, Other);
        if (Return is { } wire)
        {
            var lifted = this with { Return = null, CommonMode = null, Other = ReturnWire.NodeOf(this) };
            foreach (var element in wire.ToElements(this).Concat(lifted.ToElements(quantity)))
                yield return element;
            yield break;
        }
        if (Wiring is { } wiring)
        {
            // An open connection is a resistance ahead of the node, whatever the network behind it.
            bool isBehind = SourceOhms > 0 && wiring is not ShareOfRail;
            string node = isBehind ? Name + ".inside" : Node;
            yield return wiring.ToElement(this, node, quantity);
            if (isBehind)
                yield return new Resistor(Name + ".source", node, Node, SourceOhms);
        }
        else if (Output == Unit.Ohm)
            yield return new SensingResistor(Name, Node, Other, quantity, Law!) { SeriesOhms = SourceOhms };
        else if (Output == Unit.Amps)
        {
            yield return new CurrentSource(Name, Other, Node, quantity) { Law = Law };
            if (SourceOhms > 0)
                yield return new Resistor(Name + ".resistance", Node, Other, SourceOhms);
            // Its light's current leaves a photodiode at the anode, and flows in the diode itself where it finds the anode high.
            if (Law is StraightLaw { DarkAmps: > 0 } law)
            {
                bool isAnode = law.AtLow + law.AtHigh > 0;
                yield return new Diode(Name + ".junction", isAnode ? Node : Other, isAnode ? Other : Node, Photodiode);
            }
        }
        else if (Output == Unit.Farad)
        {
            string plate = SourceOhms > 0 ? Name + ".inside" : Node;
            yield return new SensingCapacitor(Name, plate, Other, quantity, Law!);
            if (SourceOhms > 0)
                yield return new Resistor(Name + ".source", plate, Node, SourceOhms);
        }
        else if (Output == Unit.Coulomb)
        {
            // A charge Q beside a capacitance C is a voltage Q/C behind it.
            yield return new VoltageSource(Name, Name + ".charge", Other, quantity)
            {
                SeriesOhms = SourceOhms,
                Law = ((StraightLaw)Law!).Scaled(1 / Farads, Unit.Volts),
            };
            yield return new Capacitor(Name + ".capacitance", Name + ".charge", Node, Farads);
            yield break;
        }
        else
            yield return new VoltageSource(Name, Node, Other, quantity) { SeriesOhms = SourceOhms, Law = Law };
        if (Farads > 0)
            yield return new Capacitor(Name + ".capacitance", Node, Other, Farads);
    }

    // A small silicon photodiode gives some 0.45 V open at 20 µA (typical, from memory).
    private static readonly DiodeModel Photodiode = new()
    {
        SaturationAmps = 5e-13,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12, // diffusion in silicon (Sze)
        TemperatureExponent = 3,
        SeriesOhms = 10,
    };

    /// <summary>An element of the sensor's name that follows a quantity against time; null for another element.</summary>
    internal static Element? Following(Element element, string name, Engine.Waveforms.Waveform quantity) =>
        element.Name != name ? null : element switch
        {
            VoltageSource v => v with { Volts = quantity },
            CurrentSource i => i with { Amps = quantity },
            SensingResistor r => r with { Quantity = quantity },
            SensingCapacitor c => c with { Quantity = quantity },
            SensingNetwork n => n with { Quantity = quantity },
            SensingShare s => s with { Quantity = quantity },
            _ => null,
        };
}

/// <summary>A sine that rides on a voltage.</summary>
/// <param name="PeakToPeakVolts">From its lowest to its highest value, V, above zero.</param>
/// <param name="Hertz">Its frequency, Hz, above zero.</param>
public sealed record Ripple(double PeakToPeakVolts, double Hertz);
