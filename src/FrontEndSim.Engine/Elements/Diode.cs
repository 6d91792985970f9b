namespace FrontEndSim.Engine.Elements;

/// <summary>
/// The numbers of a junction diode, zener or Schottky diode at 25 °C, in SI units, given whole by a fit to a data sheet: an
/// effect whose numbers are left out is absent.
/// Law, with vj the junction voltage behind the series resistance:
/// i = Is·(e^(vj/(n·Vt)) − 1) − Ib·(e^(−(vj+Vb)/Vs) − e^(−Vb/Vs)) + Gl·vj·(1 + (vj/V0)²)^((p−1)/2),
/// and where a zener conducts well below its knee a second, softer breakdown term of the same form
/// with the current <see cref="SoftBreakdownAmps"/> at Vb and the slope <see cref="SoftBreakdownSlopeVolts"/>.
/// The series resistance drops i·Rs; forward, where carriers flood the bulk at high current, i·R∞ + i·(Rs − R∞)/(1 + i/Im)
/// (conductivity modulation: the resistance falls with the charge that the current stores; Sze, on p-i-n rectifiers).
/// </summary>
public sealed record DiodeModel
{
    /// <summary>Saturation current Is, A.</summary>
    public required double SaturationAmps { get; init; }

    /// <summary>Emission coefficient n (Shockley's ideality factor).</summary>
    public required double EmissionCoefficient { get; init; }

    /// <summary>
    /// Activation energy of the saturation current over the elementary charge, V: the energy gap where the current is diffusion
    /// (∝ nᵢ²), half of it where it is recombination in the depletion layer (∝ nᵢ), the barrier height of a Schottky contact
    /// (Sze, Physics of Semiconductor Devices, chapters on p-n junctions and on metal-semiconductor contacts).
    /// </summary>
    public required double ActivationVolts { get; init; }

    /// <summary>
    /// Power of the absolute temperature in the same law: 3 for diffusion and 3/2 for recombination, as nᵢ² ∝ T³·exp(−Eg/kT),
    /// 2 for thermionic emission over a barrier (Sze, the same chapters).
    /// </summary>
    public required double TemperatureExponent { get; init; }

    /// <summary>Series resistance Rs, ohm: at low current and in reverse.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>
    /// What the series resistance comes to at high forward current, R∞, ohm, above zero; above <see cref="SeriesOhms"/> where the diode
    /// warms itself. Counts where <see cref="ModulationAmps"/> is finite.
    /// </summary>
    public double HighCurrentOhms { get; init; }

    /// <summary>Forward current Im at which half of the change of the series resistance has come about, A; infinity for a constant
    /// one.</summary>
    public double ModulationAmps { get; init; } = double.PositiveInfinity;

    /// <summary>Depletion capacitance at zero bias, F; zero for none.</summary>
    public double JunctionFarads { get; init; }

    /// <summary>Built-in potential V0, V; needed with a depletion capacitance or a leakage that is not ohmic.</summary>
    public double JunctionVolts { get; init; }

    /// <summary>
    /// Exponent m of the depletion capacitance, below 1: 1/2 for an abrupt junction, 1/3 for a linearly graded one (Sze);
    /// needed with a depletion capacitance.
    /// </summary>
    public double Grading { get; init; }

    /// <summary>Transit time: diffusion charge over forward current, s.</summary>
    public double TransitSeconds { get; init; }

    /// <summary>Reverse voltage Vb at which the breakdown current is <see cref="BreakdownAmps"/>, V; infinity for none.</summary>
    public double BreakdownVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Breakdown current Ib at <see cref="BreakdownVolts"/>, A.</summary>
    public double BreakdownAmps { get; init; }

    /// <summary>Change of reverse voltage for e times the breakdown current, Vs, V.</summary>
    public double BreakdownSlopeVolts { get; init; }

    /// <summary>Current of the softer breakdown term at <see cref="BreakdownVolts"/>, A; zero for none.</summary>
    public double SoftBreakdownAmps { get; init; }

    /// <summary>Change of reverse voltage for e times the current of the softer breakdown term, V.</summary>
    public double SoftBreakdownSlopeVolts { get; init; }

    /// <summary>Ohmic leakage across the junction Gl, S: its conductance near 0 V.</summary>
    public double LeakageSiemens { get; init; }

    /// <summary>
    /// Exponent p with which the leakage rises with voltages above the junction potential V0: 1 for a straight line, about 1/2 or
    /// 1/3 where it is made in a depletion layer that widens so (Sze, generation current), more where barriers sink; not below zero.
    /// </summary>
    public double LeakageExponent { get; init; } = 1;

    /// <summary>Rise of temperature that doubles the ohmic leakage, K; infinity for a leakage that does not change.</summary>
    public double LeakageDoublingKelvin { get; init; } = double.PositiveInfinity;

    /// <summary>Temperature coefficient of the breakdown voltage, 1/K.</summary>
    public double BreakdownTempCo { get; init; }

    /// <summary>Saturation current at a temperature, A, after the process that makes it.</summary>
    public double SaturationAmpsAt(double kelvin) =>
        SaturationAmps * JunctionLaw<Scalar>.Growth(kelvin, ActivationVolts, TemperatureExponent);
}

/// <summary>A diode, zener or Schottky diode; see <see cref="DiodeModel"/> for its law.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Anode.</param>
/// <param name="To">Cathode.</param>
/// <param name="Model">Its numbers.</param>
public sealed record Diode(string Name, string From, string To, DiodeModel Model) : TwoTerminal(Name, From, To)
{
    /// <summary>Saturation current at 25 °C, A.</summary>
    public static readonly Parameter SaturationCurrent = new Parameter<Diode>("saturation current", "A", d => d.Model.SaturationAmps);

    /// <summary>Breakdown voltage at 25 °C, V.</summary>
    public static readonly Parameter BreakdownVoltage = new Parameter<Diode>("breakdown voltage", "V", d => d.Model.BreakdownVolts);

    /// <summary>Conductance of the leakage near 0 V, S.</summary>
    public static readonly Parameter LeakageConductance = new Parameter<Diode>("leakage conductance", "S", d => d.Model.LeakageSiemens);

    /// <summary>Current of the softer breakdown at the breakdown voltage, A.</summary>
    public static readonly Parameter SoftBreakdownCurrent =
        new Parameter<Diode>("current of the softer breakdown", "A", d => d.Model.SoftBreakdownAmps);

    /// <summary>Time for which a forward current's charge is stored, s.</summary>
    public static readonly Parameter TransitTime = new Parameter<Diode>("transit time", "s", d => d.Model.TransitSeconds);

    /// <summary>Series resistance, ohm.</summary>
    public static readonly Parameter SeriesResistance = new Parameter<Diode>("series resistance", "ohm", d => d.Model.SeriesOhms);

    internal override IEnumerable<string> Problems() =>
    [
        .. Positive("the saturation current", Model.SaturationAmps, "A"),
        .. Positive("the emission coefficient", Model.EmissionCoefficient, ""),
        .. double.IsPositiveInfinity(Model.ModulationAmps) ? NotNegative("the series resistance", Model.SeriesOhms, "ohm") :
        [
            .. Positive("the series resistance", Model.SeriesOhms, "ohm"),
            .. Positive("the series resistance at high current", Model.HighCurrentOhms, "ohm"),
            .. Positive("the current of modulation", Model.ModulationAmps, "A"),
        ],
        .. NotNegative("the junction capacitance", Model.JunctionFarads, "F"),
        .. Model.JunctionFarads == 0 && Model.LeakageExponent == 1 ? [] : Positive("the built-in potential", Model.JunctionVolts, "V"),
        .. Model.JunctionFarads == 0 || Model.Grading is > 0 and < 1
            ? [] : new[] { $"the grading exponent must lie between 0 and 1, but is {Model.Grading}" },
        .. NotNegative("the transit time", Model.TransitSeconds, "s"),
        .. double.IsPositiveInfinity(Model.BreakdownVolts) ? [] : (IEnumerable<string>)
        [
            .. Positive("the breakdown voltage", Model.BreakdownVolts, "V"),
            .. Positive("the breakdown current", Model.BreakdownAmps, "A"),
            .. Positive("the breakdown slope", Model.BreakdownSlopeVolts, "V"),
        ],
        .. NotNegative("the current of the softer breakdown", Model.SoftBreakdownAmps, "A"),
        .. Model.SoftBreakdownAmps == 0 ? [] : Positive("the slope of the softer breakdown", Model.SoftBreakdownSlopeVolts, "V"),
        .. NotNegative("the leakage conductance", Model.LeakageSiemens, "S"),
        .. NotNegative("the exponent of the leakage", Model.LeakageExponent, ""),
        .. double.IsPositiveInfinity(Model.LeakageDoublingKelvin) ? []
            : Positive("the rise of temperature that doubles the leakage", Model.LeakageDoublingKelvin, "K"),
        .. Finite("the activation energy", Model.ActivationVolts, "eV"),
        .. Finite("the temperature exponent", Model.TemperatureExponent, ""),
        .. Finite("the breakdown temperature coefficient", Model.BreakdownTempCo, "1/K"),
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        // Beyond this exponent the law goes on as a straight line, so that no iterate overflows.
        private const double LargestExponent = 200;

        // Below this exponent a law's current is nothing beside its saturation current (e^-45 is 3e-20).
        private const double SmallestExponent = -45;

        // What is left over a tangent is told for changes of a conducting law's exponent up to this.
        private const double MostChange = 0.5;

        // A saturated junction keeps this share of its saturation current as a slope, per volt: two that block each other leave
        // the node between them determined, and no current is off by more than that share.
        private const double LeastSlope = 1e-9;

        private readonly DiodeModel _model;
        private readonly Branch _junction;
        private readonly Branch _series;
        private readonly bool _hasSeries, _isModulated, _breaksDown, _breaksSoftly, _leaksStraight, _stores;

        private L _saturationAmps, _breakdownVolts, _leakageSiemens, _seriesOhms, _softBreakdownAmps; // at 25 °C
        private L _transitSeconds;
        private L _saturation, _perVolt, _knee;
        private double _nVt;
        private L _breakdown, _breakdownAtZero, _breakdownKnee, _breakdownAmps, _perBreakdownVolt;
        private L _softAtZero, _softAmps, _perSoftVolt, _quietHard, _quietSoft;
        private L _leakage;
        private L _depletion, _perJunctionVolt, _mostDepleted, _transit;
        private bool _isAbrupt;
        private L _last;
        private L _forward, _soft, _hard, _leakSiemens, _depleted; // exponentials, leakage and capacitance of the last evaluation

        public Behaviour(Diode part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            (_saturationAmps, _breakdownVolts) = (L.Of(_model.SaturationAmps), L.Of(_model.BreakdownVolts));
            (_leakageSiemens, _seriesOhms) = (L.Of(_model.LeakageSiemens), L.Of(_model.SeriesOhms));
            _softBreakdownAmps = L.Of(_model.SoftBreakdownAmps);
            int anode = wiring.Node(part.From), inner = anode;
            _hasSeries = _model.SeriesOhms > 0;
            if (_hasSeries)
            {
                inner = wiring.Unknown($"{part.Name} (junction)");
                _isModulated = double.IsFinite(_model.ModulationAmps);
                _series = new Branch(wiring, anode, inner, nonlinear: _isModulated);
            }
            _junction = new Branch(wiring, inner, wiring.Node(part.To), nonlinear: true);
            _breaksDown = double.IsFinite(_model.BreakdownVolts);
            _breaksSoftly = _breaksDown && _model.SoftBreakdownAmps > 0;
            _leaksStraight = _model.LeakageExponent == 1 || _model.LeakageSiemens == 0;
            _stores = _model.JunctionFarads > 0 || _model.TransitSeconds > 0;
            _transitSeconds = L.Of(_model.TransitSeconds);
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == SaturationCurrent)
                return ref _saturationAmps;
            if (parameter == BreakdownVoltage)
                return ref _breakdownVolts;
            if (parameter == LeakageConductance)
                return ref _leakageSiemens;
            if (parameter == SeriesResistance)
                return ref _seriesOhms;
            if (parameter == TransitTime)
                return ref _transitSeconds;
            if (parameter == SoftBreakdownCurrent)
                return ref _softBreakdownAmps;
            return ref base.Number(parameter);
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => _breaksDown ? Math.Min(_nVt, _model.BreakdownSlopeVolts) : _nVt;

        public override void Refresh(double kelvin)
        {
            _nVt = _model.EmissionCoefficient * Constants.ThermalVolts(kelvin);
            _perVolt = L.Of(1 / _nVt);
            _saturation = _saturationAmps * L.Of(_model.SaturationAmpsAt(kelvin) / _model.SaturationAmps);
            // Where the forward law's curvature is sharpest: limiting starts here.
            _knee = L.Of(_nVt) * L.Log(L.Of(_nVt / Math.Sqrt(2)) / _saturation);
            double m = _model.Grading;
            _depletion = L.Of(_model.JunctionFarads);
            if (_model.JunctionVolts > 0)
                _perJunctionVolt = L.Of(1 / _model.JunctionVolts);
            if (m > 0)
                _mostDepleted = L.Of(_model.JunctionVolts * (1 - Math.Pow(2, -1 / m)));
            _transit = _transitSeconds;
            _isAbrupt = m == 0.5;
            _leakage = _leakageSiemens * L.Of(Math.Pow(2, (kelvin - Constants.ReferenceKelvin) / _model.LeakageDoublingKelvin));
            _leakage = L.Max(_leakage, L.Of(LeastSlope) * _saturation);
            if (!_breaksDown)
                return;
            double slope = _model.BreakdownSlopeVolts;
            _breakdown = _breakdownVolts * L.Of(1 + _model.BreakdownTempCo * (kelvin - Constants.ReferenceKelvin));
            _breakdownAmps = L.Of(_model.BreakdownAmps);
            _perBreakdownVolt = L.Of(1 / slope);
            _breakdownAtZero = L.Of(_model.BreakdownAmps) * L.Exp(-(_breakdown / L.Of(slope)));
            _breakdownKnee = _breakdown + L.Of(slope * Math.Log(slope / Math.Sqrt(2) / _model.BreakdownAmps));
            _softAmps = _softBreakdownAmps;
            (_quietHard, _quietSoft) = (L.Log(_saturation / _breakdownAmps), _breaksSoftly ? L.Log(_saturation / _softAmps) : L.Of(0));
            _perSoftVolt = L.Of(1 / _model.SoftBreakdownSlopeVolts);
            _softAtZero = _softAmps * L.Exp(-(_breakdown * _perSoftVolt));
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            if (_leaksStraight)
                _junction.Slope(g, _leakage);
            if (_hasSeries && !_isModulated)
                _series.Slope(g, L.Of(1) / _seriesOhms);
        }

        /// <summary>
        /// The current through the modulated series resistance at a voltage across it: v = i·R∞ + i·(Rs − R∞)/(1 + i/Im) is a
        /// quadratic in i forward, and i = v/Rs in reverse.
        /// </summary>
        private L SeriesCurrent(L v, out L slope)
        {
            L zero = L.Of(0), one = L.Of(1), perModulation = L.Of(1 / _model.ModulationAmps), most = L.Of(_model.HighCurrentOhms);
            L forward = L.Max(v, zero), a = most * perModulation, b = _seriesOhms - forward * perModulation;
            L root = L.Sqrt(b * b + L.Of(4) * a * forward);
            // Two forms of the same root, each where it does not cancel.
            L i = L.Less(b, zero, (root - b) / (a + a), (forward + forward) / (L.Max(b, zero) + root));
            L flooded = one + i * perModulation;
            L ohms = most + (_seriesOhms - most) / (flooded * flooded);
            slope = one / L.Less(v, zero, _seriesOhms, ohms);
            return L.Less(v, zero, v / _seriesOhms, i);
        }

        /// <summary>Shockley's law and the breakdown law, and their slope, at a junction voltage.</summary>
        private L Law(L v, out L slope, out L forward) => Law(v, out slope, out forward, out _, out _, out _);

        private L Law(L v, out L slope, out L forward, out L siemens, out L soft, out L hard)
        {
            L u = v * _perVolt;
            forward = -_saturation;
            siemens = soft = hard = L.Of(0);
            slope = L.Of(0);
            if (!L.AllBelow(u, SmallestExponent))
            {
                L capped = L.Min(u, L.Of(LargestExponent));
                L e = _saturation * L.Exp(capped);
                slope = e * _perVolt;
                forward = e * (L.Of(1) + (u - capped)) - _saturation;
            }
            L current = _leaksStraight ? forward : forward + Leakage(v, out siemens, ref slope);
            if (!_breaksDown)
                return current;
            L beyond = -(v + _breakdown);
            if (_breaksSoftly)
                current -= Breakdown(beyond, _softAmps, _perSoftVolt, out soft, ref slope) - _softAtZero;
            return current - (Breakdown(beyond, _breakdownAmps, _perBreakdownVolt, out hard, ref slope) - _breakdownAtZero);
        }

        /// <summary>The leakage of an exponent other than 1 at a voltage; its slope is added.</summary>
        private L Leakage(L v, out L siemens, ref L slope)
        {
            L one = L.Of(1), x = v * _perJunctionVolt, widened = one + x * x;
            siemens = _leakage * L.Exp(L.Of(0.5 * (_model.LeakageExponent - 1)) * L.Log(widened));
            slope += siemens * (one + L.Of(_model.LeakageExponent - 1) * x * x / widened);
            return siemens * v;
        }

        private L LeakageRemainder(L v, L moved, bool isLittle)
        {
            if (!isLittle)
            {
                L before = v - moved, slope = L.Of(0), i = Leakage(before, out _, ref slope), after = L.Of(0);
                return Leakage(v, out _, ref after) - (i + slope * moved);
            }
            L p = L.Of(_model.LeakageExponent - 1), x = v * _perJunctionVolt, square = x * x, widened = L.Of(1) + square;
            return L.Of(0.5) * moved * moved * _leakSiemens * _perJunctionVolt * p * x / widened
                * (L.Of(3) + (p - L.Of(2)) * square / widened);
        }

        private L DepletionRemainder(L v, L moved, bool isLittle)
        {
            L nothing = L.Of(0);
            if (isLittle)
                return L.Of(0.5 * _model.Grading) * moved * moved * _perJunctionVolt * _depleted / (L.Of(1) - v * _perJunctionVolt);
            return StoredCharge(v, nothing, out _) - (StoredCharge(v - moved, nothing, out _) + _depleted * moved);
        }

        /// <summary>The reverse current of one breakdown term, a voltage beyond its knee; its slope is added.</summary>
        private static L Breakdown(L beyond, L amps, L perVolt, out L exponential, ref L slope)
        {
            L w = beyond * perVolt;
            exponential = L.Of(0);
            if (L.AllBelow(w, SmallestExponent))
                return exponential;
            L capped = L.Min(w, L.Of(LargestExponent));
            exponential = amps * L.Exp(capped);
            slope += exponential * perVolt;
            return exponential * (L.Of(1) + (w - capped));
        }

        /// <summary>What an exponential leaves over its tangent for a change of its exponent; false where it was too small to be known
        /// and may not be now, or changes altogether above an exponent that makes it a saturation current.</summary>
        private static bool AddRemainder(L exponential, L exponent, L change, L quiet, ref L left)
        {
            if (L.Same(exponential, L.Of(0)))
                return L.AllBelow(exponent, SmallestExponent);
            L size = L.Abs(change);
            if (!L.AllBelow(exponent, LargestExponent) || !L.AllBelow(L.Min(size, L.Max(exponent, exponent - change) - quiet), MostChange))
                return false;
            L one = L.Of(1);
            // e^c − 1 − c, by its series where the difference would cancel.
            L share = L.AllBelow(size, MostChange)
                ? L.Of(0.5) * change * change
                    * (one + change * L.Of(1.0 / 3) * (one + change * L.Of(1.0 / 4) * (one + change * L.Of(1.0 / 5))))
                : L.Exp(change) - one - change;
            left += exponential * share;
            return true;
        }

        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges)
        {
            if (_isModulated)
            {
                L across = _series.Voltage(at.X), change = _series.Voltage(step);
                L i = SeriesCurrent(across + change, out L conductance);
                _series.Flow(left, SeriesCurrent(across, out _) - (i - conductance * change));
            }
            L v = _junction.Voltage(at.X), moved = -_junction.Voltage(step);
            L forward = L.Of(0), soft = forward, hard = forward;
            if (!AddRemainder(_forward, v * _perVolt, moved * _perVolt, L.Of(0), ref forward))
                return false;
            L current = forward;
            if (_breaksDown)
            {
                L beyond = -(v + _breakdown);
                if (!AddRemainder(_hard, beyond * _perBreakdownVolt, -(moved * _perBreakdownVolt), _quietHard, ref hard)
                    || (_breaksSoftly && !AddRemainder(_soft, beyond * _perSoftVolt, -(moved * _perSoftVolt), _quietSoft, ref soft)))
                    return false;
                current -= soft + hard;
            }
            // Half of their second derivatives where they change little, else all of it.
            bool isLittle = _model.JunctionVolts > 0 && L.AllBelow(L.Abs(moved), 0.1 * _model.JunctionVolts)
                && L.AllBelow(L.Max(v, v - moved) - _mostDepleted, 0);
            if (!_leaksStraight)
                current += LeakageRemainder(v, moved, isLittle);
            if (_stores && charges is not null)
                _junction.Flow(charges, _transit * forward
                    + (_model.JunctionFarads > 0 ? DepletionRemainder(v, moved, isLittle) : L.Of(0)));
            // The least that a junction's slope is kept at says what current is nothing.
            if (!L.AllBelow(L.Abs(current) - L.Of(LeastSlope) * _saturation, 0))
                _junction.Flow(left, current);
            return true;
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            if (_isModulated)
            {
                _series.Flow(at.F, SeriesCurrent(_series.Voltage(at.X), out L conductance));
                _series.Slope(at.G, conductance);
            }
            L v = _junction.Voltage(at.X);
            L limited = Limit(v, at);
            _last = limited;
            L i = Law(limited, out L slope, out L forward, out _leakSiemens, out _soft, out _hard);
            _forward = forward + _saturation;
            L beyond = v - limited; // the law is followed along its tangent from the limited point
            _junction.Flow(at.F, i + slope * beyond);
            _junction.Slope(at.G, slope);
            if (_stores && at.WithCharges)
            {
                L q = StoredCharge(limited, forward, out L farads);
                _depleted = farads - _transit * _forward * _perVolt;
                _junction.Flow(at.Q, q + farads * beyond);
                _junction.Slope(at.C, farads);
            }
        }

        /// <summary>
        /// Keeps the junction from moving past its knee in one step: beyond it the voltage moves by the logarithm of
        /// what the linear step asks for (the usual remedy for exponential laws).
        /// </summary>
        private L Limit(L v, Iterate<L> at)
        {
            if (at.Exact)
                return v;
            L limited = JunctionLaw<L>.Approach(v, _last, _knee, _nVt);
            if (_breaksDown)
                limited = -JunctionLaw<L>.Approach(-limited, -_last, _breakdownKnee, _model.BreakdownSlopeVolts);
            if (!L.Same(limited, v))
                at.Limited = true;
            return limited;
        }

        public override void ForgetLimits() => _last = L.Of(0);

        /// <summary>
        /// Depletion charge, C0·V0/(1−m)·(1 − (1−v/V0)^(1−m)) (Sze, depletion approximation), plus diffusion charge transit·i.
        /// The approximation fails where the layer has all but gone; a capacitance of twice that at zero bias is the rule of
        /// textbooks there (Sedra and Smith, Microelectronic Circuits, on the forward-biased junction): the law holds until it
        /// reaches that, at V0·(1 − 2^(−1/m)), and stays there above.
        /// </summary>
        private L StoredCharge(L v, L forward, out L farads)
        {
            if (_model.JunctionFarads == 0)
            {
                farads = _transit * (forward + _saturation) * _perVolt;
                return _transit * forward;
            }
            L one = L.Of(1), below = L.Min(v, _mostDepleted);
            L left = one - below * _perJunctionVolt;
            L power = _isAbrupt ? L.Sqrt(left) : L.Exp(L.Of(1 - _model.Grading) * L.Log(left)); // (1 − v/V0)^(1−m)
            L c = _depletion * power / left;
            L q = _depletion * (one - power) * L.Of(_model.JunctionVolts / (1 - _model.Grading));
            farads = c + _transit * (forward + _saturation) * _perVolt;
            return q + (v - below) * c + _transit * forward;
        }

        /// <summary>Shot noise, 2·q·I, of the currents both ways (Schottky 1918), and thermal noise of the resistances.</summary>
        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin)
        {
            double i = Law(_junction.Voltage(at.X), out _, out _).Get(0);
            double both = Math.Abs(i + 2 * _saturation.Get(0));
            yield return new(_junction.From, _junction.To, 2 * Constants.ElementaryCharge * both);
            yield return NoiseCurrent.Thermal(_junction, _leakage.Get(0), kelvin);
            if (_hasSeries)
                yield return NoiseCurrent.Thermal(_series, SeriesSiemens(at), kelvin);
        }

        private double SeriesSiemens(Iterate<L> at)
        {
            if (!_isModulated)
                return 1 / _seriesOhms.Get(0);
            SeriesCurrent(_series.Voltage(at.X), out L slope);
            return slope.Get(0);
        }

        public override L Current(Iterate<L> at)
        {
            L v = _junction.Voltage(at.X);
            L current = Law(v, out _, out _);
            return _leaksStraight ? current + _leakage * v : current;
        }

        public override L Charge(Iterate<L> at)
        {
            if (!_stores)
                return L.Of(0);
            L v = _junction.Voltage(at.X);
            Law(v, out _, out L forward);
            return StoredCharge(v, forward, out _);
        }
    }
}
