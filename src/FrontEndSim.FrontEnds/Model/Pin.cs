using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>An input pin of a microcontroller or logic device: what it stands, what it loads, and how it converts.</summary>
/// <param name="Name">Name of the pin.</param>
/// <param name="Node">Its node.</param>
public sealed record Pin(string Name, string Node)
{
    /// <summary>Lowest voltage that the pin stands, included; null where no rating is given.</summary>
    public Level? RatedLow { get; init; }

    /// <summary>Highest voltage that the pin stands, included; null where no rating is given.</summary>
    public Level? RatedHigh { get; init; }

    /// <summary>Largest current through the pin's own clamps, A, either way, included; null where no rating is given.</summary>
    public double? InjectionAmps { get; init; }

    // The largest that logic families stand (JESD7A), and that microcontrollers do, to which pins that convert belong (typical of their
    // sheets), from memory.
    private const double LogicInjectionAmps = 20e-3, ConverterInjectionAmps = 5e-3;

    /// <summary>What no pin of its kind stands through its clamps, A, where nothing is stated.</summary>
    public double MostInjectionAmps => Converter is null ? LogicInjectionAmps : ConverterInjectionAmps;

    /// <summary>How the pin converts, or null for a pin that does not.</summary>
    public Converter? Converter { get; init; }

    /// <summary>The sampling capacitor, or null where it does not matter.</summary>
    public Sampling? Sampling { get; init; }

    /// <summary>How firmware samples it and averages; null where that is not said: a reading is then one sample.</summary>
    public Averaging? Averaging { get; init; }

    /// <summary>How firmware counts its pulses; null for a pin that does not.</summary>
    public PulseCounting? Counting { get; init; }

    /// <summary>How the pin tells low from high, or null for one that does not.</summary>
    public LogicLevels? Logic { get; init; }

    /// <summary>Where the sensor's span is wanted at the pin, for a circuit whose stages do not say it; null if nothing is
    /// wanted.</summary>
    public WantedMapping? Wanted { get; init; }

    /// <summary>Leakage current into the pin, A, to ground; negative for out of it, from its rail.
    /// It ends where the pin stands there.</summary>
    public double LeakageAmps { get; init; }

    /// <summary>Whether the pin has clamp diodes of its own to its supply and to ground.</summary>
    public bool HasClamps { get; init; } = true;

    /// <summary>The rail that supplies the pin; null to take that of <see cref="RatedHigh"/> or of the converter.</summary>
    public string? Supply { get; init; }

    /// <summary>Supply voltages that its device works at, V, both ends included; null where they are not known.</summary>
    public Span? SupplyRange => Type?.Type.Supply;

    /// <summary>Its type and the rail that supplies it, where it was given by a type; else null.</summary>
    public TypeOnSupply? Type { get; init; }

    /// <summary>The rail that the upper clamp leads to, or null where no rail is known: the pin then has no upper clamp.</summary>
    public string? ClampRail => Supply ?? RatedHigh?.Rail ?? Converter?.Span.High.Rail;

    /// <summary>Name of the engine's diode from the pin to its rail.</summary>
    public string UpperClamp => Name + ".upper clamp";

    /// <summary>Name of the engine's diode from ground to the pin.</summary>
    public string LowerClamp => Name + ".lower clamp";

    /// <summary>Capacitance of a pin to ground where none is given, F: typical of a CMOS input, from memory.</summary>
    public const double UsualFarads = 5e-12;

    /// <summary>Capacitance of the pin to ground, F; zero for none.</summary>
    public double Farads { get; init; } = UsualFarads;

    /// <summary>The channel of an external multiplexer that is selected when it is read; null for a pin without one.</summary>
    public MultiplexerChannel? Channel { get; init; }

    /// <summary>
    /// Name of the pin of which this is a reading through another channel: it is one pin of the chip, and all that it loads and draws
    /// stands there; null for a pin of its own.
    /// </summary>
    public string? SameAs { get; init; }

    /// <summary>This pin of the chip as it is read through another channel.</summary>
    /// <param name="name">Name of that reading.</param>
    /// <param name="channel">The channel.</param>
    public Pin Through(string name, MultiplexerChannel channel) => this with
    {
        Name = name,
        Channel = channel,
        SameAs = SameAs ?? Name,
        Wanted = null,
        HasClamps = false,
        LeakageAmps = 0,
        Load = null,
        Farads = 0,
    };

    /// <summary>What the pin draws in proportion to its voltage, or null for nothing.</summary>
    public InputLoad? Load { get; init; }

    // A clamp of a CMOS input: about 0.7 V at 1 mA, some tens of ohm (typical of the class, from memory). Its capacitance is
    // part of the pin's, so that the current through it is injected current alone.
    private static readonly DiodeModel Clamp = new()
    {
        SaturationAmps = 1e-15,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12, // diffusion in silicon (Sze)
        TemperatureExponent = 3,
        SeriesOhms = 25,
        BreakdownVolts = 12,
        BreakdownAmps = 1e-3,
        BreakdownSlopeVolts = 0.03,
    };

    // The clamps of a family for higher supplies break down above twice the highest of them (common practice, no source).
    private DiodeModel OwnClamp => Clamp with { BreakdownVolts = Math.Max(Clamp.BreakdownVolts, 2 * (Logic?.Type.Supply.High ?? 0)) };

    internal IEnumerable<Element> ToElements()
    {
        if (HasClamps && ClampRail is { } rail)
            yield return new Diode(UpperClamp, Node, rail, OwnClamp);
        if (HasClamps)
            yield return new Diode(LowerClamp, Circuit.Ground, Node, OwnClamp);
        if (Farads > 0)
            yield return new Capacitor(Name + ".capacitance", Node, Circuit.Ground, Farads);
        if (LeakageAmps != 0)
            yield return new InputLeakage(Name + ".leakage", Node, Circuit.Ground, ClampRail, LeakageAmps);
        if (Load is { } load)
            yield return new Resistor(LoadName, Node, load.Other, load.Ohms);
    }

    /// <summary>Name of the engine's resistor that stands for <see cref="Load"/>.</summary>
    internal string LoadName => Name + ".input";
}

/// <summary>A channel of an external multiplexer.</summary>
/// <param name="Multiplexer">Name of the multiplexer.</param>
/// <param name="Node">Node of the channel.</param>
public sealed record MultiplexerChannel(string Multiplexer, string Node);

/// <summary>
/// What a pin draws in proportion to its voltage: through an input resistance, or into a capacitor that is switched between the pin and
/// another node, as in a delta-sigma converter, whose mean current at a steady voltage is that of a resistance of 1/(f·C).
/// </summary>
/// <param name="Ohms">The resistance, or its mean, ohm.</param>
/// <param name="Other">The node that it leads to.</param>
public sealed record InputLoad(double Ohms, string Other)
{
    // A resistor on a chip, or a capacitor on one, strays so far (typical of the processes, from memory).
    internal const double Spread = 0.2;

    /// <summary>The capacitor that is switched, F; null for a resistance.</summary>
    public double? Farads { get; init; }

    /// <summary>How often it is, Hz; null for a resistance.</summary>
    public double? Hertz { get; init; }

    /// <summary>A capacitor that is switched between the pin and a node.</summary>
    /// <param name="farads">The capacitor, F.</param>
    /// <param name="hertz">How often, Hz.</param>
    /// <param name="other">The node.</param>
    public static InputLoad Switched(double farads, double hertz, string other) =>
        new(1 / (farads * hertz), other) { Farads = farads, Hertz = hertz };
}

/// <summary>An analog-to-digital conversion.</summary>
/// <param name="Bits">Resolution, bits, 1 to 32.</param>
/// <param name="Span">Input range: code 0 at the lower end, 2^Bits counts at the upper end.</param>
public sealed record Converter(int Bits, LevelSpan Span)
{
    /// <summary>Largest offset error either way, counts: all readings are off by the same; null where it is not given.</summary>
    public double? OffsetErrorCounts { get; init; }

    /// <summary>Largest gain error either way, counts at the upper end of the range, offset put right; null where it is not
    /// given.</summary>
    public double? GainErrorCounts { get; init; }

    /// <summary>
    /// Largest integral non-linearity either way, counts: how far a reading may be off the converter's own straight line; null where it is
    /// not given.
    /// </summary>
    public double? LinearityCounts { get; init; }

    /// <summary>What a voltage is in counts, not rounded and not limited to the range.</summary>
    /// <param name="volts">The voltage, V.</param>
    /// <param name="railVolts">Gives the voltage of a rail by its name, V: as it really is for what the converter reads, nominal for what
    /// firmware assumes.</param>
    public double Counts(double volts, Func<string, double> railVolts)
    {
        double low = Span.Low.Resolve(railVolts);
        return (volts - low) / (Span.High.Resolve(railVolts) - low) * Codes;
    }

    /// <summary>The same on nominal rails: what firmware assumes.</summary>
    /// <param name="volts">The voltage, V.</param>
    /// <param name="rails">The rails.</param>
    /// <exception cref="StudyProblemException">A rail that it measures against is not among them.</exception>
    public double Counts(double volts, IEnumerable<Rail> rails) => (volts - Span.Low.Resolve(rails)) / CountVolts(rails);

    /// <summary>The input range on nominal rails, V.</summary>
    /// <param name="rails">The rails.</param>
    /// <exception cref="StudyProblemException">A rail that it measures against is not among them, or its upper end is not above its lower
    /// one.</exception>
    public Span Range(IEnumerable<Rail> rails)
    {
        double low = Span.Low.Resolve(rails), high = Span.High.Resolve(rails);
        return low < high ? new(low, high)
            : throw new StudyProblemException(new(ProblemKind.RangeReversed, Span.ToString()));
    }

    /// <summary>The voltage of one count on nominal rails, V.</summary>
    /// <param name="rails">The rails.</param>
    /// <exception cref="StudyProblemException">A rail that it measures against is not among them.</exception>
    public double CountVolts(IEnumerable<Rail> rails) => (Span.High.Resolve(rails) - Span.Low.Resolve(rails)) / Codes;

    /// <summary>The rails that it measures against, each once.</summary>
    public IEnumerable<string> References => new[] { Span.Low.Rail, Span.High.Rail }.OfType<string>().Distinct();

    /// <summary>What its own errors may be together, either way, counts; what is not given counts for nothing.</summary>
    /// <param name="counts">Where it reads, counts.</param>
    public double OwnErrorCounts(double counts) => (OffsetErrorCounts ?? 0)
        + (GainErrorCounts ?? 0) * Math.Clamp(counts / Codes, 0, 1) + (LinearityCounts ?? 0);

    /// <summary>The code of a number of counts: code k covers the inputs from k up to, not including, k + 1 counts.</summary>
    public double Code(double counts) => Math.Clamp(Math.Floor(counts), 0, Codes - 1);

    /// <summary>Number of codes, 2^Bits.</summary>
    public double Codes => Math.Pow(2, Bits);
}

/// <summary>The input of a sampling converter: a capacitor behind a switch, connected for a while at each sample.</summary>
/// <param name="Farads">Sampling capacitance, F.</param>
/// <param name="Ohms">Resistance of the sampling switch, ohm.</param>
/// <param name="Seconds">How long it is connected, s.</param>
public sealed record Sampling(double Farads, double Ohms, double Seconds);

/// <summary>A type of pin on a supply.</summary>
/// <param name="Type">The type.</param>
/// <param name="Rail">The rail that supplies it.</param>
public sealed record TypeOnSupply(PinType Type, string Rail);

/// <summary>How a logic pin tells low from high: the family's levels at the supply that feeds it.</summary>
/// <param name="Type">Its type, which has a gate.</param>
/// <param name="Rail">The rail that supplies it.</param>
public sealed record LogicLevels(PinType Type, string Rail)
{
    /// <summary>A voltage below this reads as low guaranteed, V, at a supply voltage, V.</summary>
    public double LowBelow(double supplyVolts) => Type.LowBelow(supplyVolts)!.Value;

    /// <summary>A voltage above this reads as high guaranteed, V, at a supply voltage, V.</summary>
    public double HighAbove(double supplyVolts) => Type.HighAbove(supplyVolts)!.Value;
}
