using FrontEndSim.Engine.Circuits;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>Several disturbances in one event: a supply is lost, then 24 V is put on a terminal.</summary>
public sealed record Together : Disturbance
{
    /// <summary>Several at once.</summary>
    /// <param name="first">What happens at the event's own node.</param>
    /// <param name="others">What happens elsewhere, with its node; one at least.</param>
    /// <exception cref="ArgumentException">Nothing else happens.</exception>
    public Together(Disturbance first, ImmutableArray<(string Node, Disturbance Disturbance)> others)
    {
        First = first;
        Others = others.IsEmpty ? throw new ArgumentException("Nothing else happens in this event.") : others;
    }

    /// <summary>What happens at the event's own node.</summary>
    public Disturbance First { get; }

    /// <summary>What happens elsewhere, with its node.</summary>
    public ImmutableArray<(string Node, Disturbance Disturbance)> Others { get; }

    private IEnumerable<Disturbance> All => [First, .. Others.Select(o => o.Disturbance)];

    /// <inheritdoc/>
    public bool Equals(Together? other) => other is not null && First == other.First && Others.SequenceEqual(other.Others);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(First, Others.Length);

    /// <inheritdoc/>
    public override FormattableString Words =>
        Others.Aggregate(First.Words, (said, o) => (FormattableString)$"{said}; at {o.Node} {o.Disturbance.Words}");

    /// <inheritdoc/>
    public override double SuggestedSeconds => All.Max(d => d.SuggestedSeconds);

    /// <inheritdoc/>
    public override bool IsLasting => All.Any(d => d.IsLasting);

    // While all of it stands.
    /// <inheritdoc/>
    public override double? LastsAt => IsLasting ? SuggestedSeconds : All.All(d => d.LastsAt is not null) ? All.Min(d => d.LastsAt) : null;

    /// <inheritdoc/>
    public override Disturbance ForEver() => new Together(First.ForEver(), [.. Others.Select(o => (o.Node, o.Disturbance.ForEver()))]);

    /// <inheritdoc/>
    public override double? PeriodSeconds => All.Max(d => d.PeriodSeconds);

    /// <inheritdoc/>
    public override double? DriveVolts => First.DriveVolts;

    /// <inheritdoc/>
    public override SilentArrester? Silent => All.Select(d => d.Silent).FirstOrDefault(s => s is not null);

    /// <inheritdoc/>
    public override Strays? Strays => All.Select(d => d.Strays).FirstOrDefault(s => s is not null);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => [.. All.SelectMany(d => d.Cautions).Distinct()];

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => First.OnSource(isRail);

    /// <inheritdoc/>
    public override bool NeedsPower(string node, Func<string, bool> isRail) =>
        First.NeedsPower(node, isRail) || Others.Any(o => o.Disturbance.NeedsPower(o.Node, isRail));

    /// <summary>The first one scaled: what happens elsewhere stays.</summary>
    /// <param name="factor">Finite, not zero.</param>
    public override Disturbance? Scaled(double factor) => First.Scaled(factor) is { } first ? new Together(first, Others) : null;

    /// <inheritdoc/>
    public override Disturbance? TearOff(double sensorOhms) => First.TearOff(sensorOhms) is { } first ? new Together(first, Others) : null;

    /// <inheritdoc/>
    public override IEnumerable<string> Loses(string node) =>
        [.. First.Loses(node), .. Others.SelectMany(o => o.Disturbance.Loses(o.Node))];

    /// <inheritdoc/>
    public override Disturbance? Floating() => All.All(d => d.Floating() is null) ? null
        : new Together(First.Floating() ?? First, [.. Others.Select(o => (o.Node, o.Disturbance.Floating() ?? o.Disturbance))]);

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail)
    {
        IReadOnlyList<Element> circuit = [.. First.Disturb(undisturbed, name, node, isRail)];
        for (int k = 0; k < Others.Length; k++)
            circuit = [.. Others[k].Disturbance.Disturb(circuit, $"{name}, {k + 2}", Others[k].Node, isRail)];
        return circuit;
    }

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) => First.ToElements(name, node, isRail);
}
