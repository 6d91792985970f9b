using System.Collections.Concurrent;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Studies.Session;

/// <summary>
/// Solutions by the circuit that they are of, compared element by element. A next store takes from the one before it what it is
/// asked for again; what nobody asks for twice is forgotten with the one before.
/// </summary>
internal sealed class SolutionStore
{
    private readonly ConcurrentDictionary<object, Lazy<object>> _solutions = [];
    private readonly SolverSettings? _settings;
    private SolutionStore? _before;

    public SolutionStore Next() => new(_settings) { _before = new SolutionStore(_solutions) };

    public SolutionStore(SolverSettings? settings = null) => _settings = settings;

    private SolutionStore(ConcurrentDictionary<object, Lazy<object>> solutions) => _solutions = solutions;

    // What a compiled circuit of more parts takes is more than what it costs to compile it again.
    private const int MostKeptParts = 2000;

    public CompiledCircuit Compiled(Circuit circuit) => circuit.Elements.Length > MostKeptParts
        ? circuit.Compile(_settings) : Get(new Key(new Content(circuit)), () => circuit.Compile(_settings), default);

    public OperatingPoint Rest(Circuit circuit, OperatingPoint? near, CancellationToken cancel) =>
        Get(new Key(new Content(circuit), "rest"), () => Compiled(circuit).SolveOperatingPoint(near, cancel), cancel);

    public SweepResult Sweep(Circuit circuit, string source, IReadOnlyList<double> volts, bool refine, OperatingPoint? near,
        CancellationToken cancel) =>
        Get(new Key(new Content(circuit), $"{source} {refine} {string.Join(' ', volts.Select(v => v.ToString("R")))}"),
            () => Compiled(circuit).Sweep(source, volts, refine, near, cancel), cancel);

    public TransientResult Transient(Circuit circuit, double until, OperatingPoint? near, CancellationToken cancel) =>
        Get(new Key(new Content(circuit), $"until {until:R}"), () => Compiled(circuit).RunTransient(until, near, cancel), cancel);

    /// <summary>A run that is made longer until it is long enough; the shorter ones are let go.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="seconds">The length to begin with, s.</param>
    /// <param name="near">Where it rests, about.</param>
    /// <param name="settle">Given what runs a length, makes the run that is long enough.</param>
    /// <param name="cancel">Stops the solver.</param>
    public TransientResult Settled(Circuit circuit, double seconds, OperatingPoint? near,
        Func<Func<double, TransientResult>, TransientResult> settle, CancellationToken cancel) =>
        Get(new Key(new Content(circuit), $"settled from {seconds:R}"),
            () => settle(s => Compiled(circuit).RunTransient(s, near, cancel)), cancel);

    private T Get<T>(Key key, Func<T> solve, CancellationToken cancel) where T : class => Once(_solutions, key,
        () => _before?._solutions.TryGetValue(key, out var kept) == true && kept.IsValueCreated ? (T)kept.Value : solve(), cancel);

    /// <summary>What stands under a key, solved if nothing does. What was cancelled is not kept.</summary>
    public static T Once<T>(ConcurrentDictionary<object, Lazy<object>> kept, object key, Func<T> solve, CancellationToken cancel)
        where T : class
    {
        while (true)
        {
            var answer = kept.GetOrAdd(key, _ => new Lazy<object>(solve));
            try
            {
                return (T)answer.Value;
            }
            catch (OperationCanceledException)
            {
                kept.TryRemove(KeyValuePair.Create(key, answer));
                // Another caller's cancellation is none of this one's.
                cancel.ThrowIfCancellationRequested();
            }
        }
    }

    private sealed record Key(Content Circuit, string Analysis = "");

    /// <summary>A circuit by its elements' values.</summary>
    private sealed class Content(Circuit circuit) : IEquatable<Content>
    {
        private readonly Circuit _circuit = circuit;
        private readonly int _hash = Hash(circuit);

        private static int Hash(Circuit circuit)
        {
            var hash = new HashCode();
            hash.Add(circuit.Celsius);
            foreach (var element in circuit.Elements)
                hash.Add(element);
            return hash.ToHashCode();
        }

        public bool Equals(Content? other) => other is not null && other._hash == _hash && other._circuit.Celsius.Equals(_circuit.Celsius)
            && other._circuit.Elements.SequenceEqual(_circuit.Elements);

        public override bool Equals(object? obj) => Equals(obj as Content);

        public override int GetHashCode() => _hash;
    }
}
