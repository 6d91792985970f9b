using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A part that one buys and solders in: what it is, its tolerance and its ratings. It knows how it is drawn as engine elements.</summary>
/// <param name="Name">The part's name, unique in its front end; "shift.R1" for part R1 of stage shift.</param>
public abstract record Part(string Name)
{
    /// <summary>What a person calls it: "resistor", "zener".</summary>
    public abstract string Word { get; }

    /// <summary>Its value as on the parts list: "4.7 kohm 1 %", "1N4148".</summary>
    public abstract string ValueText { get; }

    /// <summary>The nodes of its terminals, in order.</summary>
    public abstract ImmutableArray<string> Nodes { get; }

    /// <summary>What it may be asked to stand; empty if nothing is known.</summary>
    public virtual ImmutableArray<Rating> Ratings => [];

    /// <summary>
    /// Time over which the part's heat averages its power, s. A pulse much shorter than it may carry the rated power times
    /// this time; chosen on the short side, so that short pulses are judged severely (from memory).
    /// </summary>
    public virtual double ThermalSeconds => 0.1;

    /// <summary>
    /// The engine elements that behave as this part at its nominal value. One of them carries the part's own name,
    /// the others add a suffix to it ("RV1.upper").
    /// </summary>
    public abstract IEnumerable<Element> ToElements();

    /// <summary>"4.7 kohm 1 %".</summary>
    internal static string Text(Toleranced value, string unit) =>
        SiText.Format(value.Value, unit) + (value.Tolerance > 0 ? " " + SiText.Format(value.Tolerance, "%") : "");
}

/// <summary>Something that a part must not exceed. A rating is a limit, not a working value.</summary>
/// <param name="Kind">What is limited.</param>
/// <param name="Limit">The limit in W, V or A, above zero.</param>
/// <param name="Source">Where the number comes from.</param>
public sealed record Rating(RatingKind Kind, double Limit, string Source);

/// <summary>What a <see cref="Rating"/> limits.</summary>
public enum RatingKind
{
    /// <summary>Power, W, once warm: compared with the power averaged over the part's thermal time.</summary>
    Power,

    /// <summary>Voltage across the part, V, either way.</summary>
    Voltage,

    /// <summary>Peak current, A, either way.</summary>
    PeakCurrent,
}
