using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>What delivers a rail, as something that carries a current and has a rating for it.</summary>
/// <param name="Rail">The rail.</param>
public sealed record RailOutput(Rail Rail) : Part(Rail.Name)
{
    // What is shorter comes of the capacitors at the rail (common practice, no source), s.
    private const double LastingSeconds = 1e-3;

    /// <inheritdoc/>
    public override string Word => "rail";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(Rail.Name, Circuit.Ground);

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) => Rail.DeliversAmps is not { } amps ? []
        : [new(RatingKind.Current, new EffectiveCurrent(Name, LastingSeconds), amps, "the circuit file")];

    /// <inheritdoc/>
    public override string? Unlimited => Rail.DeliversAmps is null ? Name : null;

    /// <summary>The supply alone: it stands in the circuit as the rail's.</summary>
    public override IEnumerable<Element> ToElements() => Rail.ToElements().Where(e => e.Name == Name);
}
