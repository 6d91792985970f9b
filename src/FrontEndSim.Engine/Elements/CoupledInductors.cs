using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Engine.Elements;

/// <summary>
/// Two coils on one core: v1 = L1·di1/dt + M·di2/dt + R1·i1, v2 = M·di1/dt + L2·di2/dt + R2·i2, M = k·√(L1·L2): a transformer, or a
/// common-mode choke (Maxwell; any circuits textbook). Linear: the core does not saturate.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="FirstFrom">Start of the first winding, where its dot is.</param>
/// <param name="FirstTo">End of the first winding.</param>
/// <param name="SecondFrom">Start of the second winding, where its dot is.</param>
/// <param name="SecondTo">End of the second winding.</param>
/// <param name="FirstHenries">Inductance of the first winding, H, above zero.</param>
/// <param name="SecondHenries">Inductance of the second winding, H, above zero.</param>
/// <param name="Coupling">Coupling factor k, above −1 and below 1.</param>
public sealed record CoupledInductors(string Name, string FirstFrom, string FirstTo, string SecondFrom, string SecondTo,
    double FirstHenries, double SecondHenries, double Coupling) : Element(Name)
{
    /// <summary>Resistance of the first winding, ohm, above zero.</summary>
    public required double FirstOhms { get; init; }

    /// <summary>Resistance of the second winding, ohm, above zero.</summary>
    public required double SecondOhms { get; init; }

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [FirstFrom, FirstTo, SecondFrom, SecondTo];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with
        {
            FirstFrom = renamed(FirstFrom),
            FirstTo = renamed(FirstTo),
            SecondFrom = renamed(SecondFrom),
            SecondTo = renamed(SecondTo)
        };

    internal override IEnumerable<(string, string)> DirectPaths() => [(FirstFrom, FirstTo), (SecondFrom, SecondTo)];

    internal override IEnumerable<string> Problems() =>
    [
        .. Positive("the inductance of the first winding", FirstHenries, "H"),
        .. Positive("the inductance of the second winding", SecondHenries, "H"),
        .. Positive("the resistance of the first winding", FirstOhms, "ohm"),
        .. Positive("the resistance of the second winding", SecondOhms, "ohm"),
        .. Coupling is > -1 and < 1 ? [] : new[] { $"the coupling factor must lie between -1 and 1, but is {Coupling}" },
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private readonly CoupledInductors _part;
        private readonly BranchCurrent _first, _second;
        private readonly int _firstSecond, _secondFirst;

        public Behaviour(CoupledInductors part, Wiring wiring) : base(part)
        {
            _part = part;
            _first = new BranchCurrent(wiring, part.FirstFrom, part.FirstTo, $"{part.Name} (first)");
            _second = new BranchCurrent(wiring, part.SecondFrom, part.SecondTo, $"{part.Name} (second)");
            (_firstSecond, _secondFirst) = (wiring.Entry(_first.Row, _second.Row), wiring.Entry(_second.Row, _first.Row));
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            _first.Incidence(g);
            _second.Incidence(g);
            g[_first.Diagonal] -= L.Of(_part.FirstOhms);
            g[_second.Diagonal] -= L.Of(_part.SecondOhms);
            c[_first.Diagonal] -= L.Of(_part.FirstHenries);
            c[_second.Diagonal] -= L.Of(_part.SecondHenries);
            L mutual = L.Of(_part.Coupling * Math.Sqrt(_part.FirstHenries * _part.SecondHenries));
            c[_firstSecond] -= mutual;
            c[_secondFirst] -= mutual;
        }

        /// <summary>Reported as the current of the first winding.</summary>
        public override L Current(Iterate<L> at) => at.X[_first.Row];

        /// <summary>The power into both windings: heat of the resistances, and what comes and goes with the field.</summary>
        public override L? Watts(Iterate<L> at) => at.X[_first.Row] * (at.X[_first.From] - at.X[_first.To])
            + at.X[_second.Row] * (at.X[_second.From] - at.X[_second.To]);
    }
}
