using System.Collections.Concurrent;
using System.Collections.Frozen;

namespace FrontEndSim.Engine.Results;

/// <summary>The circuit against time. Immutable.</summary>
public sealed class TransientResult
{
    private readonly FrozenDictionary<string, Trace> _voltages;
    private readonly Func<string, PartTraces> _partsWith;
    private readonly Func<string, bool> _has;

    internal TransientResult(StepTimes times, FrozenDictionary<string, Trace> voltages, OperatingPoint start,
        OperatingPoint final,
        Audit audit, Func<PartTraces> parts)
    {
        (_voltages, Start, Final) = (voltages, start, final);
        (_times, End, _passes) = (TimesOf(times), times.Times[^1], times.PassingSteps);
        var all = new Lazy<PartTraces>(parts);
        (_partsWith, _has) = (_ => all.Value, part => all.Value.Currents.ContainsKey(part));
        _audit = new Lazy<Audit>(() =>
            audit with { EnergyImbalance = all.Value.EnergyImbalance, LargestAmps = all.Value.LargestAmps });
    }

    /// <summary>One of which parts are read singly, each when it is asked for.</summary>
    internal TransientResult(StepTimes times, FrozenDictionary<string, Trace> voltages, OperatingPoint start, OperatingPoint final,
        Func<Audit> audit, Func<string, PartTraces> part)
    {
        (_voltages, Start, Final) = (voltages, start, final);
        (_times, End, _passes) = (TimesOf(times), times.Times[^1], times.PassingSteps);
        (_partsWith, _has) = (new ReadSingly(part).Of, start.Parts.ContainsKey);
        _audit = new Lazy<Audit>(audit);
    }

    private static Lazy<double[]> TimesOf(StepTimes times) =>
        new(() => [0, .. times.Passing().Select(s => s.Later + times.End(s.Step))]);

    private readonly Lazy<Audit> _audit;
    private readonly Lazy<double[]> _times;
    private readonly long _passes;

    /// <summary>The ends of the time steps, s, from zero.</summary>
    public IReadOnlyList<double> Times => _times.Value;

    /// <summary>The last of them, s.</summary>
    public double End { get; }

    /// <summary>The times to draw it at, s: the ends of the time steps, or, of more of them than may be, as many times evenly
    /// apart.</summary>
    /// <param name="most">How many at most, above 1.</param>
    public IReadOnlyList<double> TimesToDraw(int most = 200_000) => _passes <= most ? Times
        : [.. Enumerable.Range(0, most).Select(k => k == most - 1 ? End : End * k / (most - 1))];

    /// <summary>The operating point at time zero.</summary>
    public OperatingPoint Start { get; }

    /// <summary>The circuit at the last time (static currents only: the current into a capacitance is in its trace).</summary>
    public OperatingPoint Final { get; }

    /// <summary>
    /// The worst residual, the energy balance and the work. (The balance and the largest current are 0 if the settings kept
    /// single nodes only.)
    /// </summary>
    public Audit Audit => _audit.Value;

    /// <summary>Itself, where its audit is within its limits.</summary>
    /// <exception cref="SolveException">It is beyond them: nothing that is read from it is known.</exception>
    public TransientResult Audited() => Audit.IsWithinLimits ? this : throw new SolveException(FormattableString.Invariant(
        $"The solution does not balance: currents by {Audit.KirchhoffShare:P2} of the largest, energy by {Audit.EnergyImbalance:P2}. ")
        + "Parts of less extreme value, or a shorter time, often help.", Audit.KirchhoffNode);

    /// <summary>The voltage of a node, V.</summary>
    /// <exception cref="ArgumentException">The circuit has no such node, or it was not kept.</exception>
    public Trace Voltage(string node) =>
        _voltages.GetValueOrDefault(node) ?? throw new ArgumentException($"No voltage of a node named {node} was kept.", nameof(node));

    /// <summary>The current from From through a part to To, A, that into its capacitance included.</summary>
    /// <exception cref="ArgumentException">The circuit has no such part, or single nodes only were kept.</exception>
    public Trace Current(string part) => Find(_partsWith(part).Currents, part);

    /// <summary>Square of that current, A²: what heats.</summary>
    /// <param name="part">Name of the part.</param>
    public Trace SquaredCurrent(string part) => Current(part).Times(Current(part));

    /// <summary>The power that a part takes in, W; that of a capacitor comes back.</summary>
    /// <exception cref="ArgumentException">The circuit has no such part, or single nodes only were kept.</exception>
    public Trace Power(string part) => Find(_partsWith(part).Powers, part);

    /// <summary>Whether the circuit has a part of that name; false as well if single nodes only were kept.</summary>
    public bool Has(string part) => _has(part);

    /// <summary>Parts that are read when they are asked for, and anew where memory was needed for something else.</summary>
    private sealed class ReadSingly(Func<string, PartTraces> read)
    {
        private readonly ConcurrentDictionary<string, WeakReference<PartTraces>> _read = [];
        private PartTraces? _latest; // what is asked for is mostly asked for again at once

        public PartTraces Of(string part)
        {
            if (_read.TryGetValue(part, out var kept) && kept.TryGetTarget(out var traces))
                return _latest = traces;
            traces = read(part);
            _read[part] = new(traces);
            return _latest = traces;
        }
    }

    private static Trace Find(FrozenDictionary<string, Trace> traces, string part) =>
        traces.GetValueOrDefault(part) ?? throw new ArgumentException($"No trace of a part named {part} was kept.", nameof(part));
}

/// <summary>Traces of every part, the energy balance that they give, and the largest current.</summary>
internal sealed record PartTraces(FrozenDictionary<string, Trace> Currents, FrozenDictionary<string, Trace> Powers,
    double EnergyImbalance, double LargestAmps);
