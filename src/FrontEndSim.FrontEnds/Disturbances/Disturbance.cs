using System.Globalization;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// Something that happens at a node: a generator that is connected to it for a while, or a change of what drives it. It knows its
/// elements, what it does to sources, how long it is looked at, what it is judged for, how it scales, its cautions and its words.
/// Time zero is the circuit at its operating point, undisturbed. Immutable.
/// </summary>
public abstract record Disturbance
{
    /// <summary>What happens, in words with their figures as data: the arguments are quantities with units.</summary>
    public abstract FormattableString Words { get; }

    /// <summary>What happens, as a line of text: "step to 24 V behind 1 ohm, lasting".</summary>
    public string Text => Words.ToString(CultureInfo.InvariantCulture);

    /// <summary>How long a run shows all of it, s.</summary>
    public abstract double SuggestedSeconds { get; }

    /// <summary>Whether it lasts to the end of the run, so that parts must stand it for ever.</summary>
    public virtual bool IsLasting => false;

    /// <summary>
    /// When what stands then must be stood for ever, s: the end of the run where it lasts, and the end of a fault whose length nothing
    /// bounds;
    /// null where nothing must.
    /// </summary>
    public virtual double? LastsAt => IsLasting ? SuggestedSeconds : null;

    /// <summary>The same without an end, where nothing but what it is looked at bounds its length; else itself.</summary>
    public virtual Disturbance ForEver() => this;

    /// <summary>What it drives the node with at its peak while nothing loads it, V, with its sign; null where it has no voltage of its
    /// own.</summary>
    public virtual double? DriveVolts => null;

    /// <summary>The arrester that couples it and does not fire, so that nothing reaches the node; null where something does.</summary>
    public virtual SilentArrester? Silent => null;

    /// <summary>Period of what repeats as long as it lasts, s, so that its power is a mean over whole periods; null where nothing
    /// does.</summary>
    public virtual double? PeriodSeconds => null;

    /// <summary>Lead inductance and stray capacitance that parts have in it; null where it is too slow for them to matter.</summary>
    public virtual Strays? Strays => null;

    /// <summary>What a person should know before trying this on a bench.</summary>
    public virtual ImmutableArray<string> Cautions => [];

    /// <summary>What it does to whatever drives the node where it strikes.</summary>
    /// <param name="isRail">Whether the node is a supply rail.</param>
    public virtual SourceEffect OnSource(bool isRail) =>
        isRail && DecouplingHenries is not null ? SourceEffect.Decouples : SourceEffect.None;

    /// <summary>The inductance that a rail's source stands behind, H, by the standard's network or its wiring; null for none.</summary>
    private protected virtual double? DecouplingHenries => null;

    /// <summary>Whether it can happen only while supplies are on: it changes a rail that is then at nothing.</summary>
    /// <param name="node">Where it strikes.</param>
    /// <param name="isRail">Whether a node is a supply rail.</param>
    public virtual bool NeedsPower(string node, Func<string, bool> isRail) => isRail(node) && OnSource(true) == SourceEffect.Alters;

    /// <summary>The same with its strength multiplied: a factor of −1 turns it round. Null where it has no strength, or not that
    /// one.</summary>
    /// <param name="factor">Finite, not zero.</param>
    public virtual Disturbance? Scaled(double factor) => null;

    /// <summary>
    /// The same with the sensor at its node torn off while it lasts; null where no voltage is put on the node, or one behind so much more
    /// resistance than the sensor has that no wire of it is meant.
    /// </summary>
    /// <param name="sensorOhms">The sensor's source resistance, ohm.</param>
    public virtual Disturbance? TearOff(double sensorOhms) => null;

    /// <summary>The rails whose supply ends with it, by what strikes at a node.</summary>
    /// <param name="node">Where it strikes.</param>
    public virtual IEnumerable<string> Loses(string node) => [];

    /// <summary>The same with lost supplies left to float instead of being held at 0 V, so that what is fed into them backwards lifts
    /// them; null where none is lost.</summary>
    public virtual Disturbance? Floating() => null;

    // A wire that falls on a terminal has at most some ten times the resistance of what is connected there (common practice, no source).
    private protected const double WireOverSensor = 10;

    /// <summary>The engine elements that make it happen between a node and ground.</summary>
    /// <param name="name">Name of the generator among the elements.</param>
    /// <param name="node">The node that it is connected to.</param>
    /// <param name="isRail">Whether the node is a supply rail: standards couple there in another way than to a signal.</param>
    public abstract IEnumerable<Element> ToElements(string name, string node, bool isRail = false);

    /// <summary>
    /// The circuit with this in it. Most disturbances add a generator; a lost rail or an open sensor changes what is there.
    /// </summary>
    /// <param name="undisturbed">The elements of the circuit without it.</param>
    /// <param name="name">Name of the generator among the elements.</param>
    /// <param name="node">The node where it strikes.</param>
    /// <param name="isRail">Whether a node is a supply rail.</param>
    /// <exception cref="StudyProblemException">The circuit has nothing there that this could happen to.</exception>
    public virtual IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
    [
        .. isRail(node) && DecouplingHenries is { } henries ? Sources.Decoupled(undisturbed, node, henries) : undisturbed,
        .. ToElements(name, node, isRail(node)),
    ];

    /// <summary>The cautions of anything that makes kilovolts or stores energy.</summary>
    private protected static readonly ImmutableArray<string> GeneratorCautions =
    [
        "Surge, burst and discharge generators can injure or kill: leave tests to trained people, and follow local rules and the test "
            + "standard.",
        "No certification: wiring, spacings and parts beyond their ratings are not covered.",
    ];

    private protected static Quantity V(double volts) => new(volts, Unit.Volts);

    private protected static Quantity Ohm(double ohms) => new(ohms, Unit.Ohm);

    private protected static Quantity F(double farads) => new(farads, Unit.Farad);

    private protected static Quantity S(double seconds) => new(seconds, Unit.Seconds);

    private protected static Quantity Hz(double hertz) => new(hertz, Unit.Hertz);

    /// <summary>Throws unless the voltage is finite and not zero.</summary>
    internal static double NotZero(string what, double volts) => double.IsFinite(volts) && volts != 0
        ? volts
        : throw new ArgumentException($"{what} must be a finite voltage other than 0 V.");

    /// <summary>Throws unless the number is finite and above zero.</summary>
    internal static double Positive(string what, double value, string unit) => double.IsFinite(value) && value > 0
        ? value
        : throw new ArgumentException($"{what} must be above 0 {unit}, but is {SiText.Format(value, unit)}.");

    /// <summary>Throws unless the number is finite and at least zero.</summary>
    internal static double NotNegative(string what, double value, string unit) => double.IsFinite(value) && value >= 0
        ? value
        : throw new ArgumentException($"{what} must be at least 0 {unit}, but is {SiText.Format(value, unit)}.");
}

/// <summary>What a disturbance does to whatever drives the node where it strikes.</summary>
public enum SourceEffect
{
    /// <summary>Nothing: the generator is connected beside it, and moves nothing where the source has no resistance.</summary>
    None,

    /// <summary>It stays behind an inductance that keeps the disturbance out of it, as a standard's decoupling network does.</summary>
    Decouples,

    /// <summary>It is changed: lost, reversed, late. There must be one, and it must be on.</summary>
    Alters,

    /// <summary>The generator takes its place. There must be one.</summary>
    Replaces,
}

/// <summary>An arrester that does not fire.</summary>
/// <param name="FiresAtVolts">What it fires at, V.</param>
/// <param name="PeakVolts">What the wave reaches, V, as a magnitude.</param>
public sealed record SilentArrester(double FiresAtVolts, double PeakVolts);

/// <summary>A disturbance at a node, with a name.</summary>
/// <param name="Name">What a person calls it: "24 V put on the sensor terminal".</param>
/// <param name="Node">Where it strikes.</param>
/// <param name="Disturbance">What happens.</param>
public sealed record FaultEvent(string Name, string Node, Disturbance Disturbance)
{
    /// <summary>Name of the generator among the engine's elements.</summary>
    public string Generator => "event: " + Name;
}
