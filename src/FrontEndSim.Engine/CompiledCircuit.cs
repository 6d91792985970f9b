using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Solving;

namespace FrontEndSim.Engine;

/// <summary>
/// A circuit ready to solve. The structure of its equations is worked out once; every analysis works on its own
/// numbers, so one compiled circuit may serve several threads.
/// </summary>
public sealed class CompiledCircuit
{
    internal CompiledCircuit(Circuit circuit, SolverSettings settings)
    {
        Circuit = circuit;
        Settings = settings;
        Topology = new Topology(circuit.Elements, circuit.Celsius);
    }

    /// <summary>The circuit that this was compiled from.</summary>
    public Circuit Circuit { get; }

    /// <summary>Accuracy and limits.</summary>
    public SolverSettings Settings { get; }

    internal Topology Topology { get; }

    /// <summary>The circuit at rest, all waveforms at their value at time zero.</summary>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public OperatingPoint SolveOperatingPoint(CancellationToken cancel = default) => SolveOperatingPoint(null, cancel);

    /// <summary>The same, searched for first from where a circuit of the same structure and other numbers rests.</summary>
    /// <param name="near">Its operating point; null, or one of another structure, is no help.</param>
    /// <param name="cancel">Stops the search.</param>
    /// <inheritdoc cref="SolveOperatingPoint(CancellationToken)"/>
    public OperatingPoint SolveOperatingPoint(OperatingPoint? near, CancellationToken cancel)
    {
        var kernel = new Kernel<Scalar>(Topology);
        var solver = new OperatingPointSolver(kernel, Settings, cancel);
        solver.Solve(0, near?.Foothold);
        return Readings.Take(kernel, solver);
    }

    /// <summary>The circuit at rest for each of a series of values of one source, each solved from the one before.</summary>
    /// <param name="source">Name of a voltage or current source (or switch) whose value is swept.</param>
    /// <param name="values">The values, V or A, in the order to visit; ascending if <paramref name="refine"/>.</param>
    /// <param name="refine">Whether to add points where the solution bends, so that knees are found and not stepped over.</param>
    /// <param name="cancel">Stops between points.</param>
    /// <exception cref="ArgumentException">No source has that name, or there are no values.</exception>
    /// <exception cref="SolveException">No solution was found at some value.</exception>
    public SweepResult Sweep(string source, IReadOnlyList<double> values, bool refine = false, CancellationToken cancel = default) =>
        Sweep(source, values, refine, null, cancel);

    /// <summary>The same, the first point searched for first from where a circuit of the same structure rests.</summary>
    /// <param name="source">Name of a voltage or current source (or switch) whose value is swept.</param>
    /// <param name="values">The values, V or A, in the order to visit; ascending if <paramref name="refine"/>.</param>
    /// <param name="refine">Whether to add points where the solution bends, so that knees are found and not stepped over.</param>
    /// <param name="near">An operating point; null, or one of another structure, is no help.</param>
    /// <param name="cancel">Stops between points.</param>
    /// <inheritdoc cref="Sweep(string, IReadOnlyList{double}, bool, CancellationToken)"/>
    public SweepResult Sweep(string source, IReadOnlyList<double> values, bool refine, OperatingPoint? near, CancellationToken cancel) =>
        new SweepRun(this, source, cancel).Run(values, refine, near);

    /// <summary>
    /// The same sweep for many trials of the parts' numbers, on all cores. The result depends on the trials' numbers only,
    /// bit for bit, whatever the number of cores.
    /// </summary>
    /// <param name="source">Name of the source that is swept.</param>
    /// <param name="values">Its values, V or A.</param>
    /// <param name="varied">The numbers that vary.</param>
    /// <param name="trials">How many trials.</param>
    /// <param name="numbers">Gives each trial's numbers; called from several threads.</param>
    /// <param name="nodes">The nodes whose voltages are wanted.</param>
    /// <param name="cores">How many cores to use at most; 0 for all.</param>
    /// <param name="cancel">Stops between trials.</param>
    /// <exception cref="ArgumentException">A source, part, number or node is not in the circuit.</exception>
    /// <exception cref="SolveException">The nominal circuit or some trial has no solution.</exception>
    public TrialResult SweepTrials(string source, IReadOnlyList<double> values, IReadOnlyList<VariedNumber> varied, int trials,
        TrialNumbers numbers, IReadOnlyList<string> nodes, int cores = 0, CancellationToken cancel = default) =>
        new TrialSweep(new TrialRun(this, source, values, varied, nodes, null, trials, cancel)).Run(trials, numbers, cores, cancel);

    /// <summary>The same for several runs of many trials, which solve the nominal sweep and its slopes once.</summary>
    /// <param name="source">Name of the source that is swept.</param>
    /// <param name="values">Its values, V or A.</param>
    /// <param name="varied">The numbers that vary.</param>
    /// <param name="nodes">The nodes whose voltages are wanted.</param>
    /// <param name="near">An operating point to search the first from; null, or one of little of the same, is no help.</param>
    /// <param name="cancel">Stops the nominal sweep.</param>
    /// <exception cref="ArgumentException">A source, part, number or node is not in the circuit.</exception>
    /// <exception cref="SolveException">The nominal circuit has no solution.</exception>
    public TrialSweep PrepareTrials(string source, IReadOnlyList<double> values, IReadOnlyList<VariedNumber> varied,
        IReadOnlyList<string> nodes, OperatingPoint? near = null, CancellationToken cancel = default) =>
        new(new TrialRun(this, source, values, varied, nodes, near?.Foothold, int.MaxValue, cancel));

    /// <summary>The response to a small change of one source about the operating point, and the noise.</summary>
    /// <param name="source">Name of a voltage or current source.</param>
    /// <param name="hertz">Frequencies, Hz, ascending.</param>
    /// <param name="cancel">Stops between frequencies.</param>
    /// <exception cref="ArgumentException">No source has that name.</exception>
    /// <exception cref="SolveException">No operating point was found.</exception>
    public SmallSignalResult SolveSmallSignal(string source, IReadOnlyList<double> hertz, CancellationToken cancel = default) =>
        new SmallSignalRun(this, [], [], cancel).Run(source, hertz, cancel);

    /// <summary>The same with some numbers of its parts changed.</summary>
    /// <param name="source">Name of a voltage or current source.</param>
    /// <param name="hertz">Frequencies, Hz, ascending.</param>
    /// <param name="varied">The numbers.</param>
    /// <param name="values">What each is, in the same order.</param>
    /// <param name="cancel">Stops between frequencies.</param>
    /// <exception cref="ArgumentException">A source, part or number is not in the circuit.</exception>
    /// <exception cref="SolveException">No operating point was found.</exception>
    public SmallSignalResult SolveSmallSignal(string source, IReadOnlyList<double> hertz, IReadOnlyList<VariedNumber> varied,
        IReadOnlyList<double> values, CancellationToken cancel = default) =>
        new SmallSignalRun(this, varied, values, cancel).Run(source, hertz, cancel);

    /// <summary>The natural modes about the operating point: which grow, how the others are damped.</summary>
    /// <param name="cancel">Stops between steps of the solution.</param>
    /// <exception cref="SolveException">No operating point was found.</exception>
    public ModesResult SolveModes(CancellationToken cancel = default) => new ModeRun(this, cancel).Solve();

    /// <summary>The gain around the loop of an op amp at the operating point, and its phase margin.</summary>
    /// <param name="opAmp">Name of an op amp.</param>
    /// <param name="cancel">Stops the search for the operating point.</param>
    /// <exception cref="ArgumentException">No op amp has that name.</exception>
    /// <exception cref="SolveException">No operating point was found.</exception>
    public LoopGain SolveLoopGain(string opAmp, CancellationToken cancel = default) => new ModeRun(this, cancel).LoopGain(opAmp);

    /// <summary>The natural modes that grow about one operating point, and the loop gains of op amps where none does.</summary>
    /// <param name="opAmps">Names of op amps.</param>
    /// <param name="near">An operating point to search from; null, or one of another structure, is no help.</param>
    /// <param name="cancel">Stops the search for the operating point.</param>
    /// <exception cref="ArgumentException">No op amp has one of the names.</exception>
    /// <exception cref="SolveException">No operating point was found.</exception>
    public StabilityResult SolveStability(IReadOnlyList<string> opAmps, OperatingPoint? near = null, CancellationToken cancel = default) =>
        new ModeRun(this, cancel).Solve(opAmps, near);

    /// <summary>The natural modes that the loops of op amps make and that oscillate with a damping ratio below 1/√2 or grow, the slowest to
    /// decay first: <see cref="StabilityResult.Ringing"/> without the loop gains.</summary>
    /// <inheritdoc cref="SolveStability"/>
    public ImmutableArray<Mode> SolveRinging(IReadOnlyList<string> opAmps, OperatingPoint? near = null,
        CancellationToken cancel = default) => new ModeRun(this, cancel).Ringing(opAmps, near);

    /// <summary>
    /// The stable points of the circuit: the operating point at time zero or, where a mode of that grows, what the circuit
    /// settles to in time when it is pushed a little along the mode, either way, its sources held at their values at time zero.
    /// </summary>
    /// <param name="cancel">Stops between time steps.</param>
    /// <exception cref="SolveException">No operating point was found.</exception>
    public SettledResult Settle(CancellationToken cancel = default) => new ModeRun(this, cancel).Settle();

    /// <summary>The circuit against time, from rest at time zero.</summary>
    /// <param name="until">Last time, s, above zero.</param>
    /// <param name="cancel">Stops between steps.</param>
    /// <exception cref="SolveException">No solution was found at some time, or the limit on steps was reached.</exception>
    public TransientResult RunTransient(double until, CancellationToken cancel = default) => RunTransient(until, null, cancel);

    /// <summary>The same, rest searched for first from where a circuit of the same structure and other numbers rests.</summary>
    /// <param name="until">Last time, s, above zero.</param>
    /// <param name="near">Its operating point; null, or one of another structure, is no help.</param>
    /// <param name="cancel">Stops between steps.</param>
    /// <inheritdoc cref="RunTransient(double, CancellationToken)"/>
    public TransientResult RunTransient(double until, OperatingPoint? near, CancellationToken cancel) =>
        new TransientRun(this, cancel).Run(until, near);

    /// <summary>The same with some numbers of its parts changed.</summary>
    /// <param name="until">Last time, s, above zero.</param>
    /// <param name="varied">The numbers.</param>
    /// <param name="values">What each is, in the same order.</param>
    /// <param name="cancel">Stops between steps.</param>
    /// <exception cref="ArgumentException">A part or number is not in the circuit.</exception>
    /// <inheritdoc cref="RunTransient(double, CancellationToken)"/>
    public TransientResult RunTransient(double until, IReadOnlyList<VariedNumber> varied, IReadOnlyList<double> values,
        CancellationToken cancel = default) => new TransientRun(this, varied, values, cancel).Run(until);

    /// <summary>What the circuit would do with some numbers of its parts changed, to first order: the change of the parts is taken in full,
    /// the answer of all others along their slopes. Much quicker than a run of its own for each.</summary>
    /// <param name="until">Last time, s, above zero.</param>
    /// <param name="near">As above.</param>
    /// <param name="changed">Circuits of the same parts with other numbers; sources and temperature as they are here.</param>
    /// <param name="cancel">Stops between steps.</param>
    /// <returns>What each would do; null where that cannot be said: a circuit of another structure or with other sources, or a run of very
    /// many steps. Parts are read singly, and the audit is that of this circuit.</returns>
    /// <inheritdoc cref="RunTransient(double, CancellationToken)"/>
    public IReadOnlyList<TransientResult?> RunChanged(double until, OperatingPoint? near, IReadOnlyList<CompiledCircuit> changed,
        CancellationToken cancel = default) => new TransientRun(this, cancel).RunChanged(until, near, changed);

    /// <summary>What each number is where nothing is changed.</summary>
    /// <param name="varied">The numbers.</param>
    /// <exception cref="ArgumentException">A part or number is not in the circuit.</exception>
    public double[] NominalOf(IReadOnlyList<VariedNumber> varied) =>
        [.. varied.Select(Find).Select(f => f.Number.NominalOf(Circuit.Elements[f.Device])!.Value)];

    /// <summary>The place of the part that a number is of.</summary>
    internal (int Device, Parameter Number) Find(VariedNumber varied)
    {
        int part = Topology.IndexOf(varied.Element);
        if (part < 0)
            throw new ArgumentException($"The circuit has no part named {varied.Element}.");
        return varied.Number.NominalOf(Circuit.Elements[part]) is not null ? (part, varied.Number)
            : throw new ArgumentException($"{varied.Element} has no {varied.Number} that may vary.");
    }

    /// <summary>The place of a source among the parts.</summary>
    internal int SourceIndex(string source)
    {
        int index = Topology.IndexOf(source);
        if (index < 0 || Circuit.Elements[index]
            is not (VoltageSource or CurrentSource or SensingResistor or SensingCapacitor or SensingNetwork or SensingShare or Switch))
            throw new ArgumentException($"The circuit has no source named {source}.", nameof(source));
        return index;
    }
}
