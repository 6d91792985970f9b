namespace FrontEndSim.Engine.Elements;

/// <summary>
/// Two coils on one core: v1 = L1·di1/dt + M·di2/dt + R1·i1, v2 = M·di1/dt + L2·di2/dt + R2·i2, M = k·√(L1·L2): a transformer, or a
/// common-mode choke (Maxwell; any circuits textbook). What both windings share is a flux λ(im) of the magnetising current
/// im = i1 + i2·√(L2/L1); where the core saturates, λ is straight up to its limit and goes on with the inductance of a coil without a core.
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

    /// <summary>Flux of the first winding at which the core saturates, V·s, either way; infinity for a core that does not.</summary>
    public double SaturationVoltSeconds { get; init; } = double.PositiveInfinity;

    /// <summary>What is left of the magnetising inductance of a core that is saturated through: some hundredths, as the permeability of
    /// its material falls from thousands to that of air, its gap and its stray field (from memory).</summary>
    internal const double SaturatedShare = 0.02;

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
        .. SaturationVoltSeconds > 0 ? [] : new[] { $"the flux of saturation must be above 0 Vs, but is {SaturationVoltSeconds}" },
        .. Coupling is > -1 and < 1 ? [] : new[] { $"the coupling factor must lie between -1 and 1, but is {Coupling}" },
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private readonly CoupledInductors _part;
        private readonly BranchCurrent _first, _second;
        private readonly int _firstSecond, _secondFirst;
        private readonly double _turns, _core;

        public Behaviour(CoupledInductors part, Wiring wiring) : base(part)
        {
            _part = part;
            _first = new BranchCurrent(wiring, part.FirstFrom, part.FirstTo, $"{part.Name} (first)", IsNonlinear);
            _second = new BranchCurrent(wiring, part.SecondFrom, part.SecondTo, $"{part.Name} (second)", IsNonlinear);
            (_firstSecond, _secondFirst) = (wiring.Entry(_first.Row, _second.Row, IsNonlinear),
                wiring.Entry(_second.Row, _first.Row, IsNonlinear));
            _turns = Math.Sign(part.Coupling) * Math.Sqrt(part.SecondHenries / part.FirstHenries);
            _core = Math.Abs(part.Coupling) * part.FirstHenries;
        }

        public override bool IsNonlinear => double.IsFinite(_part.SaturationVoltSeconds);

        public override void LoadLinear(L[] g, L[] c)
        {
            _first.Incidence(g);
            _second.Incidence(g);
            g[_first.Diagonal] -= L.Of(_part.FirstOhms);
            g[_second.Diagonal] -= L.Of(_part.SecondOhms);
            double apart = 1 - Math.Abs(_part.Coupling);
            c[_first.Diagonal] -= L.Of(apart * _part.FirstHenries);
            c[_second.Diagonal] -= L.Of(apart * _part.SecondHenries);
            if (!IsNonlinear)
                Core(c, L.Of(_core));
        }

        // What both windings share, at an inductance of the first.
        private void Core(L[] c, L henries)
        {
            c[_first.Diagonal] -= henries;
            c[_second.Diagonal] -= L.Of(_turns * _turns) * henries;
            c[_firstSecond] -= L.Of(_turns) * henries;
            c[_secondFirst] -= L.Of(_turns) * henries;
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            if (!IsNonlinear || !at.WithCharges)
                return;
            L flux = Flux(at.X[_first.Row] + L.Of(_turns) * at.X[_second.Row], out L henries);
            at.Q[_first.Row] -= flux;
            at.Q[_second.Row] -= L.Of(_turns) * flux;
            Core(at.C, henries);
        }

        // λ = Ls·i + (L − Ls)·is·u/(1 + u⁸)^(1/8), u = i/is: straight to 1e-9 up to a tenth of the limit, and 8 % short of it there.
        private L Flux(L amps, out L henries)
        {
            double left = SaturatedShare * _core, full = _core - left, limit = _part.SaturationVoltSeconds / _core;
            L u = amps / L.Of(limit), u2 = u * u, u4 = u2 * u2, size = L.Of(1) + u4 * u4;
            L bent = L.Exp(L.Of(-0.125) * L.Log(size));
            henries = L.Of(left) + L.Of(full) * bent / size;
            return L.Of(left) * amps + L.Of(full) * amps * bent;
        }

        /// <summary>Reported as the current of the first winding.</summary>
        public override L Current(Iterate<L> at) => at.X[_first.Row];

        /// <summary>The power into both windings: heat of the resistances, and what comes and goes with the field.</summary>
        public override L? Watts(Iterate<L> at) => at.X[_first.Row] * (at.X[_first.From] - at.X[_first.To])
            + at.X[_second.Row] * (at.X[_second.From] - at.X[_second.To]);
    }
}
