using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Pins;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// A part that one buys and solders in. It knows itself: its elements, its ratings, what it may be off by, how it fails, what it is
/// bought by, and what it would be without its faults.
/// </summary>
/// <param name="Name">The part's name, unique in its front end; "shift.R1" for part R1 of stage shift.</param>
public abstract record Part(string Name)
{
    // What remains of an open part, what is left of a shorted one, and what an output that sticks has in series.
    private protected const double OpenOhms = 1e9, ShortOhms = 0.01, StuckOhms = 50;

    /// <summary>What a person calls it: "resistor", "zener".</summary>
    public abstract string Word { get; }

    /// <summary>The one number that it is bought by; null for a part that is bought by its type.</summary>
    public virtual PartValue? Value => null;

    /// <summary>The same part with another value.</summary>
    /// <param name="value">The value, in the unit of <see cref="Value"/>, with its spread.</param>
    /// <exception cref="InvalidOperationException">It is bought by its type.</exception>
    public virtual Part WithValue(Toleranced value) => throw new InvalidOperationException($"{Word} {Name} has no value of its own.");

    /// <summary>Its value as on the parts list: "4.7 kohm 1 %", "1N4148".</summary>
    public virtual string ValueText => Value?.ToString() ?? "";

    /// <summary>Its terminals, in order.</summary>
    public abstract ImmutableArray<Terminal> Terminals { get; }

    /// <summary>The nodes of its terminals, in order.</summary>
    public ImmutableArray<string> Nodes => [.. Terminals.Select(t => t.Node)];

    /// <summary>The nodes that a signal passes between as it stands.</summary>
    public virtual ImmutableArray<string> SignalNodes => Nodes;

    /// <summary>The nodes that it is supplied from, a positive one before a negative one; empty for a part without a supply.</summary>
    public virtual ImmutableArray<string> SupplyNodes => [];

    /// <summary>Its supply pins and the voltages between them at which it works, ends included; null where none are stated.</summary>
    public virtual (string Positive, string Negative, Span Volts)? WorkingSupply => null;

    /// <summary>The nodes between which it keeps a voltage, and the least and the largest that sound pieces keep, V; null for a part that
    /// keeps none.</summary>
    public virtual (string Positive, string Negative, Span Volts)? Regulates => null;

    /// <summary>The current from its positive to its negative node that it keeps its voltage from, A; null where it needs none.</summary>
    public virtual double? RegulatesFromAmps => null;

    /// <summary>The current from its positive to its negative node at an operating point, A.</summary>
    /// <param name="point">The point.</param>
    public virtual double RegulatingAmps(OperatingPoint point) => 0;

    /// <summary>The contact that slides along its resistance; null for a part without one.</summary>
    public virtual SlidingContact? Contact => null;

    /// <summary>The same part with its contact elsewhere.</summary>
    /// <param name="position">A share of its track.</param>
    public virtual Part SlidTo(double position) => this;

    /// <summary>What it is as the input of what follows a logic level; null for a part that is no gate.</summary>
    public virtual (string Input, string Output, string Supply)? Logic => null;

    /// <summary>The loop that it drives a current into for a command; null for a part that drives none.</summary>
    public virtual DrivenLoop? Loop => null;

    /// <summary>It as the supply of a node; null where it is none.</summary>
    public virtual Rail? AsRail => null;

    /// <summary>The capacitance that its sheet asks for from its output to its ground pin, F; null where it asks for none, or where that is
    /// not known.</summary>
    public virtual (string Output, string Ground, double Farads)? AsksAtOutput => null;

    /// <summary>Whether its elements and inner nodes mean nothing to a person: it is told as one thing between its terminals.</summary>
    public virtual bool IsClosed => false;

    /// <summary>Whether no current that lasts passes it.</summary>
    public virtual bool BlocksLasting => false;

    /// <summary>Key of its symbol in a drawing; most parts are drawn by what they are called.</summary>
    public virtual string Symbol => Word;

    /// <summary>What it does in its stage, as the stage that placed it says; null for a part that no shipped stage placed.</summary>
    public Role? Role { get; init; }

    /// <summary>What it must not exceed at an ambient temperature; empty if nothing is known.</summary>
    /// <param name="ambientCelsius">Temperature around it, °C.</param>
    public virtual ImmutableArray<Rating> Ratings(double ambientCelsius = 25) => [];

    /// <summary>
    /// Time over which the part's heat averages its power, s. A pulse much shorter than it may carry the rated power times
    /// this time; chosen on the short side, so that short pulses are judged severely (from memory).
    /// </summary>
    public virtual double ThermalSeconds => 0.1;

    /// <summary>What it may be off by, and the numbers of its elements that this acts on.</summary>
    /// <param name="assumed">What is taken where the part's own numbers say nothing.</param>
    public virtual IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) => [];

    /// <summary>Its type and the tolerance stated for it, where it holds a voltage by breaking down; null for any other part.</summary>
    public virtual (string Type, double? Tolerance)? BreaksDown => null;

    /// <summary>What is taken for granted of it where its own numbers say nothing.</summary>
    public virtual Assumption Assumes => Assumption.None;

    /// <summary>What of it a bench may find to be other than planned; faults apart.</summary>
    public virtual IEnumerable<Deviation> Deviations => [];

    /// <summary>
    /// The part at an end of the spread that decides what it lets through in an event, with its value there; null for a part without one.
    /// </summary>
    /// <param name="high">Whether it is the upper end.</param>
    public virtual (Part Part, Quantity Value)? AtLimit(bool high) => null;

    /// <summary>What the value of <see cref="AtLimit"/> is of: "current gain".</summary>
    public virtual string LimitWord => "";

    /// <summary>
    /// How much warmer than what is around it its junction gets for what it dissipates for ever, K/W, where it then gives way at a higher
    /// voltage; 0 for any other part. What gives way at a lower one when warm protects the better for it.
    /// </summary>
    public virtual double KelvinPerWatt => 0;

    /// <summary>The part with its junction warmer than what is around it.</summary>
    /// <param name="kelvin">By how much, K.</param>
    public virtual Part Warmed(double kelvin) => this;

    /// <summary>The part at a temperature, °C, where its numbers of 25 °C do not say what it is there.</summary>
    public virtual Part At(double celsius) => this;

    /// <summary>The part at an end of its tolerance, with its value there; null for a part without one.</summary>
    /// <param name="high">Whether it is the upper end.</param>
    public virtual (Part Part, Quantity Value)? AtTolerance(bool high) => null;

    /// <summary>The part with its value at an end of its tolerance, for those whose value alone strays.</summary>
    private protected (Part Part, Quantity Value)? ValueAtTolerance(bool high) =>
        Value is { Amount.Tolerance: > 0 } value && (high ? value.Amount.Most : value.Amount.Least) is > 0 and var end
            ? (WithValue(value.Amount with { Value = end }), new(end, value.Unit)) : null;

    /// <summary>What is taken for the tolerance of its value where none is given; null for a part that has none.</summary>
    public virtual UsualSpread? UsualTolerance => null;

    /// <summary>Ambient temperature up to which parts of its kind are made, °C; null where its ratings say it, or none is
    /// known.</summary>
    public virtual double? MostAmbientCelsius => null;

    /// <summary>Ambient temperature down to which parts of its kind are made, °C; null where none is known.</summary>
    public virtual double? LeastAmbientCelsius => null;

    // Chips for industry; passive parts (typical, from memory).
    private protected const double IndustrialCelsius = -40, MilitaryCelsius = -55;

    /// <summary>The element whose current nothing limits, though parts of its kind have a rating for it; null where one is known or none
    /// is usual.</summary>
    public virtual string? Unlimited => null;

    /// <summary>What parts of its kind carry where nothing limits their current, A: small supplies, contacts and coils of signals (common
    /// practice, no source).</summary>
    public virtual double UsualAmps => 0.5;

    /// <summary>The piece that is slowest or quickest by what bandwidths stray; null for a part that has none.</summary>
    /// <param name="high">Whether the quickest.</param>
    public virtual Part? AtBandwidth(bool high) => null;

    /// <summary>Whether it makes noise of its own that no small-signal solution has.</summary>
    public virtual bool HasNoiseUncounted => false;

    /// <summary>Temperature below which what cold does to it is not in its model, °C; null for none.</summary>
    public virtual double? KnownDownToCelsius => null;

    /// <summary>The piece that leaks most, with what that is; null for a part that does not leak.</summary>
    public virtual (Part Part, Quantity Value)? AtMostLeakage() => null;

    /// <summary>Whether the piece that leaks most leaks so much more than the usual one that it is always looked at, and not near a limit
    /// alone.</summary>
    public virtual bool LeaksLargely => false;

    /// <summary>What it is that leaks, in a word or two; empty for the part itself.</summary>
    public virtual string LeakageWord => "";

    /// <summary>The part in the other of two positions, where a person may leave it in either; null for any other.</summary>
    public virtual Part? Turned => null;

    /// <summary>Its channels, of which one is joined to a common node; null for a part that selects none.</summary>
    public virtual ChannelSelection? Selection => null;

    /// <summary>The same part with another channel selected.</summary>
    /// <param name="channel">Node of the channel that is selected at first.</param>
    /// <param name="moves">The channels selected later, by ascending times, s; empty for a part that stays where it is.</param>
    internal virtual Part Selecting(string channel, ImmutableArray<(double Seconds, string Channel)> moves) => this;

    /// <summary>Whether a signal switches it, so that it conducts or does not.</summary>
    public virtual bool IsSwitched => false;

    /// <summary>Whether its current goes on when it is switched off.</summary>
    public virtual bool IsCoil => false;

    /// <summary>Larger pieces in its place, the next first, each with the rating before and then; null where its type says it.</summary>
    /// <param name="needed">The least rating that is of use, in its unit.</param>
    public virtual IEnumerable<(Part Part, (Quantity Now, Quantity Then)? Rating)> Larger(double needed) => [];

    /// <summary>The same part of types with less of an imperfection, the next first.</summary>
    public virtual IEnumerable<Part> WithLess(Imperfection of) => [];

    /// <summary>The same part of the next types above or below in the voltage that they hold; none for a part that holds none.</summary>
    public virtual IEnumerable<Part> NextVoltages(bool higher) => [];

    /// <summary>The same part where it has its input at a pin, of that pin's family.</summary>
    public virtual Part AtPin(string node, PinType family) => this;

    /// <summary>Two in series in its place, each a share of it; null for a part that cannot be parted so.</summary>
    /// <param name="second">Name of the second.</param>
    /// <param name="between">The node between them.</param>
    /// <param name="share">The share of each.</param>
    public virtual (Part First, Part Second)? InTwo(string second, string between, double share) => null;

    /// <summary>The same part with one thing about it ideal, a thing at a time.</summary>
    public virtual IEnumerable<Idealisation> Idealisations => [];

    /// <summary>
    /// Whether what it carries once an event is over may go on for ever, as in an arrester that a supply keeps lit: it is judged as if it
    /// did.
    /// </summary>
    public virtual bool StaysOn => false;

    /// <summary>How it fails.</summary>
    public virtual ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short];

    /// <summary>What it is bought by beside its value; null where nothing is to choose.</summary>
    public virtual Purchase? Purchase => null;

    /// <summary>What a person needs to know to mount it the right way: "band (cathode) to GND"; empty where either way is right.</summary>
    public virtual string Mounting => "";

    /// <summary>Whether it is a source on the bench rather than a part of the board.</summary>
    public virtual bool IsSource => false;

    /// <summary>Whether it is turned at the bench until what it sets is right.</summary>
    public virtual bool IsTrimmed => false;

    /// <summary>Its ports as an amplifier, or null for a part that does not amplify.</summary>
    public virtual AmplifierPorts? Amplifier => null;

    /// <summary>Every amplifier inside it, each with the name of its element: one for an op amp, none for most parts.</summary>
    public virtual IEnumerable<AmplifierElement> Amplifiers => Amplifier is { } ports ? [new(Name, ports)] : [];

    /// <summary>Whether it is a resistance between two nodes, and nothing else.</summary>
    public virtual bool IsResistor => false;

    /// <summary>What it does wherever it is connected so, by its kind and its nodes alone; null where that is not plain.</summary>
    /// <param name="isSupply">Whether a node is a supply rail.</param>
    public virtual Role? RoleByWiring(Func<string, bool> isSupply) => null;

    /// <summary>
    /// The engine elements that behave as this part at its nominal value. One of them carries the part's own name,
    /// the others add a suffix to it ("RV1.upper").
    /// </summary>
    public abstract IEnumerable<Element> ToElements();

    /// <summary>The engine elements that behave as this part does once it has failed.</summary>
    /// <param name="mode">How; one of <see cref="FailureModes"/>.</param>
    public virtual IEnumerable<Element> Broken(FaultMode mode)
    {
        var nodes = Nodes;
        for (int k = 1; k < nodes.Length; k++)
        {
            if (nodes[k] != nodes[0])
                yield return new Resistor(k == 1 ? Name : $"{Name}.{k}", nodes[0], nodes[k], mode == FaultMode.Short
                    ? ShortOhms : OpenOhms);
        }
    }

    /// <summary>Names of its elements.</summary>
    public ImmutableArray<string> ElementNames => [.. ToElements().Select(e => e.Name)];

    private protected static ImmutableArray<Terminal> Ends(string from, string to) => [new("", from), new("", to)];

    /// <summary>A rating of the power of all its elements together.</summary>
    private protected Rating PowerRating(double watts, string source) => new(RatingKind.Power, new PowerIn(ElementNames), watts, source);

    /// <summary>A rating of the power of all its junctions together at an ambient temperature, and of short pulses.</summary>
    private protected Rating JunctionPower(double watts, double ambientCelsius, double mostJunctionCelsius, string source)
    {
        double left = watts * Rating.JunctionShare(ambientCelsius, mostJunctionCelsius);
        return PowerRating(left, source) with { Pulses = PulseLimit.OfJunction(left) };
    }

    // An output that broke: stuck at a rail, or open and held by next to nothing.
    private protected Element BrokenOutput(FaultMode mode, string output, string positive, string negative) => mode switch
    {
        FaultMode.StuckHigh => new Resistor(Name, output, positive, StuckOhms),
        FaultMode.StuckLow => new Resistor(Name, output, negative, StuckOhms),
        _ => new Resistor(Name, output, Circuit.Ground, OpenOhms),
    };
}

/// <summary>The channels of a part that joins one of them to a common node.</summary>
/// <param name="Channels">Nodes of the channels.</param>
/// <param name="Selected">Node of the one that is selected.</param>
/// <param name="CommonFarads">Capacitance of the common node to ground, F.</param>
public sealed record ChannelSelection(ImmutableArray<string> Channels, string Selected, double CommonFarads);

/// <summary>A contact that slides along a resistance.</summary>
/// <param name="Node">Its node.</param>
/// <param name="Position">Where it stands, a share of the track.</param>
/// <param name="Ohms">Resistance of the track, ohm.</param>
/// <param name="IsAnywhere">Whether nothing is said of where it stands, so that it may be turned to either end.</param>
public sealed record SlidingContact(string Node, double Position, double Ohms, bool IsAnywhere);

/// <summary>A loop that a part drives a current into.</summary>
/// <param name="Command">Node of the command.</param>
/// <param name="Node">Node that the current is driven into.</param>
/// <param name="Supply">Node of the loop supply.</param>
/// <param name="AcrossVolts">What the part needs across itself at least, V; null where that is not known.</param>
public sealed record DrivenLoop(string Command, string Node, string Supply, double? AcrossVolts);

/// <summary>What is taken for granted of a part.</summary>
[Flags]
public enum Assumption
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The temperature coefficient of a resistance.</summary>
    ResistorTempCo = 1,

    /// <summary>How far an open-loop gain may be off.</summary>
    Gain = 2,

    /// <summary>How far a leakage may be off.</summary>
    Leakage = 4,
}

/// <summary>The number that a part is bought by.</summary>
/// <param name="Amount">The number, SI, with its spread.</param>
/// <param name="Unit">Its unit.</param>
public sealed record PartValue(Toleranced Amount, Unit Unit)
{
    /// <summary>"4.7 kohm 1 %".</summary>
    public override string ToString() =>
        SiText.Format(Amount.Value, Unit.Symbol) + (Amount.Tolerance > 0 ? " " + SiText.Format(Amount.Tolerance, "%") : "");
}

/// <summary>Where an amplifier is connected, and its numbers.</summary>
/// <param name="Plus">Non-inverting input.</param>
/// <param name="Minus">Inverting input.</param>
/// <param name="Output">Output.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Model">Its numbers.</param>
public sealed record AmplifierPorts(string Plus, string Minus, string Output, string PositiveRail, string NegativeRail, OpAmpModel Model);

/// <summary>An amplifier inside a part.</summary>
/// <param name="Name">Name of its element.</param>
/// <param name="Ports">Where it is connected, and its numbers.</param>
public sealed record AmplifierElement(string Name, AmplifierPorts Ports);

/// <summary>A terminal of a part.</summary>
/// <param name="Word">What a person calls it: "anode"; empty for one of two that are alike.</param>
/// <param name="Node">The node that it is connected to.</param>
public sealed record Terminal(string Word, string Node);

/// <summary>What a part does in the stage that placed it.</summary>
public enum Role
{
    /// <summary>The resistor from the input to where the signal is formed.</summary>
    InputResistor,

    /// <summary>The resistor from an output back to an input.</summary>
    FeedbackResistor,

    /// <summary>The resistor from what a shift is taken from.</summary>
    ReferenceResistor,

    /// <summary>The resistor that balances the voltage that bias currents make.</summary>
    CompensationResistor,

    /// <summary>A resistor from the signal to ground.</summary>
    ResistorToGround,

    /// <summary>The resistor that limits what reaches a pin.</summary>
    SeriesResistor,

    /// <summary>The resistor that holds a node where nothing else does.</summary>
    PullDown,

    /// <summary>The resistor that turns a current into a voltage.</summary>
    Burden,

    /// <summary>The resistor of a filter.</summary>
    FilterResistor,

    /// <summary>The diode that bounds a node above its supply.</summary>
    UpperClamp,

    /// <summary>The diode that bounds a node below ground.</summary>
    LowerClamp,

    /// <summary>The zener that bounds a node against ground.</summary>
    Zener,

    /// <summary>The diode that shows a state by its light.</summary>
    Indicator,

    /// <summary>The diode that the signal or the supply itself flows through.</summary>
    Rectifier,
}

/// <summary>A part with one thing about it ideal.</summary>
/// <param name="Of">What is ideal.</param>
/// <param name="Ideal">The part then; null where it would be as good as not there.</param>
public sealed record Idealisation(Imperfection Of, Part? Ideal);

/// <summary>What keeps a part from being ideal.</summary>
public enum Imperfection
{
    /// <summary>Finite open-loop gain and input resistance.</summary>
    Gain,

    /// <summary>Bias and offset currents.</summary>
    BiasCurrent,

    /// <summary>Offset voltage.</summary>
    OffsetVoltage,

    /// <summary>How near to its rails an output comes.</summary>
    Swing,

    /// <summary>Finite bandwidth.</summary>
    Bandwidth,

    /// <summary>A leakage, of a part that shall carry nothing while all is well.</summary>
    Leakage,
}

/// <summary>What a part is bought by beside its value.</summary>
/// <param name="Kind">The rating that a size is chosen by.</param>
/// <param name="Asked">The least that the circuit asks for, in the rating's unit.</param>
/// <param name="Share">The share of the rating that may be used for a long life; 1 where the part is bought as it stands.</param>
/// <param name="Sizes">Sizes that are sold, ascending; empty where the part is bought as it stands.</param>
public sealed record Purchase(RatingKind Kind, double Asked, double Share, ImmutableArray<double> Sizes)
{
    /// <summary>A part that is bought as it stands.</summary>
    public static Purchase AsRated(RatingKind kind, double rated) => new(kind, rated, 1, []);

    /// <summary>The smallest size sold that carries a load and is not below what is asked for; what is needed if none is sold.</summary>
    /// <param name="load">The worst that the part has to stand, in the rating's unit.</param>
    public double SizeFor(double load)
    {
        double needed = Sizes.IsEmpty ? Asked : Math.Max(Asked, load / Share);
        return Sizes.Where(s => s >= needed * (1 - 1e-9)).FirstOrDefault(needed);
    }
}
