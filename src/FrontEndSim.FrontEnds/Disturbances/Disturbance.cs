using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>Something that happens at a node: a generator that is connected to it for a while. Time zero is the circuit at rest, undisturbed.</summary>
public abstract record Disturbance
{
    /// <summary>What happens, in words: "step to 24 V behind 1 ohm".</summary>
    public abstract string Text { get; }

    /// <summary>How long a run shows all of it, s.</summary>
    public abstract double SuggestedSeconds { get; }

    /// <summary>Whether it lasts to the end of the run, so that parts must stand it for ever.</summary>
    public virtual bool IsLasting => false;

    /// <summary>What a person should know before trying this on a bench.</summary>
    public virtual ImmutableArray<string> Cautions => [];

    /// <summary>The engine elements that make it happen between a node and ground.</summary>
    /// <param name="name">Name of the generator among the elements.</param>
    /// <param name="node">The node that it is connected to.</param>
    public abstract IEnumerable<Element> ToElements(string name, string node);

    /// <summary>
    /// The circuit with this in it. Most disturbances add a generator; a lost rail or an open sensor changes what is there.
    /// </summary>
    /// <param name="undisturbed">The elements of the circuit without it.</param>
    /// <param name="name">Name of the generator among the elements.</param>
    /// <param name="node">The node where it strikes.</param>
    /// <exception cref="StudyProblemException">The circuit has nothing there that this could happen to.</exception>
    public virtual IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node) =>
        [.. undisturbed, .. ToElements(name, node)];

    /// <summary>The cautions of anything that makes kilovolts or stores energy.</summary>
    private protected static readonly ImmutableArray<string> GeneratorCautions =
    [
        "Surge, burst and discharge generators can injure or kill: leave tests to trained people, and follow local rules and the test standard.",
        "A simulated disturbance is no certification: wiring inductance, spacings and the parts' behaviour beyond their ratings are not covered.",
    ];

    /// <summary>Throws unless the voltage is finite and not zero.</summary>
    internal static double NotZero(string what, double volts) => double.IsFinite(volts) && volts != 0
        ? volts
        : throw new ArgumentException($"{what} must be a finite voltage other than 0 V.");

    /// <summary>Throws unless the number is finite and above zero.</summary>
    internal static double Positive(string what, double value, string unit) => double.IsFinite(value) && value > 0
        ? value
        : throw new ArgumentException($"{what} must be above 0 {unit}, but is {SiText.Format(value, unit)}.");
}

/// <summary>A disturbance at a node, with a name.</summary>
/// <param name="Name">What a person calls it: "24 V put on the sensor terminal".</param>
/// <param name="Node">Where it strikes.</param>
/// <param name="Disturbance">What happens.</param>
public sealed record FaultEvent(string Name, string Node, Disturbance Disturbance)
{
    /// <summary>Name of the generator among the engine's elements.</summary>
    public string Generator => "event: " + Name;
}
