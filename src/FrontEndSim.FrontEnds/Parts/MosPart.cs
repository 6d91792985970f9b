using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of enhancement MOS transistor: a data sheet with a model fitted to it.</summary>
/// <param name="Name">Registered type number or a name of the user's.</param>
/// <param name="Sheet">The data sheet.</param>
/// <param name="Model">The model of a typical channel.</param>
/// <param name="Body">The diode from source to drain of an n-channel type.</param>
/// <param name="SeriesOhms">Resistance in series with the channel, ohm; zero for none.</param>
/// <param name="ThresholdAbove">How far the threshold of the weakest piece lies above the model's, V.</param>
/// <param name="ThresholdBelow">How far that of the strongest lies below it, V.</param>
/// <param name="WeakSeriesOhms">Resistance in series with the channel of the weakest piece, ohm.</param>
/// <param name="Points">The numbers that the model was fitted to.</param>
public sealed record MosType(string Name, MosDataSheet Sheet, MosModel Model, DiodeModel Body,
    double SeriesOhms, double ThresholdAbove, double ThresholdBelow,
    double WeakSeriesOhms, ImmutableArray<TypeFigure> Points) : TransistorType(Name, Sheet)
{
    /// <inheritdoc/>
    public override bool TakesCurrent => false;

    /// <inheritdoc/>
    public override Part Placed(string name, string load, string control, string common) => new MosPart(name, load, control, common, this);

    /// <inheritdoc/>
    public override string Kind => Sheet.Polarity == Polarity.N ? "n-channel" : "p-channel";

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        .. Points,
        .. TypeFigure.Stated("rated power", Sheet.RatedWatts, "W"), .. TypeFigure.Stated("rated drain current", Sheet.RatedAmps, "A"),
        .. TypeFigure.Stated("rated pulse current", Sheet.PulseAmps, "A"),
            .. TypeFigure.Stated("rated drain-source voltage", Sheet.DrainVolts, "V"),
        .. TypeFigure.Stated("rated gate-source voltage", Sheet.GateVolts, "V"),
            .. TypeFigure.Stated("leakage of the drain", Sheet.Leakage?.Amps, "A"),
    ];

    /// <summary>The weakest piece, of the largest threshold and resistance, or the strongest.</summary>
    public MosType AtLimit(bool weak) => this with
    {
        Model = Model with { ThresholdVolts = Model.ThresholdVolts + (weak ? ThresholdAbove : -ThresholdBelow) },
        SeriesOhms = weak ? WeakSeriesOhms : SeriesOhms,
    };
}

/// <summary>An enhancement MOS transistor with its body diode. Its gate takes no current, so that something has to hold it.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Drain">Drain.</param>
/// <param name="Gate">Gate.</param>
/// <param name="Source">Source, joined to the body.</param>
/// <param name="Type">Its type.</param>
public sealed record MosPart(string Name, string Drain, string Gate, string Source, MosType Type)
    : TransistorPart<MosType>(Name, Type)
{
    // What is in series with the channel grows by at most 1 %/K (2N7002 sheets of Central and Supertex).
    private const double SeriesTempCo = 0.01;

    // A pulse of a stated current is 300 µs long by custom (from memory).
    private const double PulseSeconds = 300e-6;

    // What a gate leaks at most at its rated voltage, A (2N7002 and power transistor sheets, from memory).
    private const double GateAmps = 100e-9;

    private bool GateLeaks { get; init; }

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("gate", Gate), new("drain", Drain), new("source", Source)];

    /// <inheritdoc/>
    protected override ImmutableArray<Rating> Limits =>
    [
        .. Rating.Stated(new(RatingKind.PeakCurrent, new CurrentThrough([Name, BodyName]), Type.Sheet.RatedAmps, Type.Source)
        {
            Pulses = Type.Sheet.PulseAmps is var pulse && double.IsFinite(pulse) ? [new(1e-6, pulse), new(PulseSeconds, pulse)] : [],
        }),
        .. Voltage(Drain, Source, Type.Sheet.DrainVolts),
        new(RatingKind.GateVoltage, new VoltageAcross(Gate, Source), Type.Sheet.GateVolts, Type.Source),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
        [new(Name + " threshold", new RectangularInput(-Type.ThresholdBelow, Type.ThresholdAbove), ErrorKind.OffsetVoltage,
            [new VariedNumber(Name, MosTransistor.ThresholdVoltage)], (now, x, _) => now + x)];

    /// <inheritdoc/>
    public override string LimitWord => "threshold";

    /// <summary>The weakest piece, named by its threshold, or the strongest.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high) =>
        (this with { Type = Type.AtLimit(high) }, new(high ? Type.Sheet.Threshold.High : Type.Sheet.Threshold.Low, Unit.Volts));

    /// <inheritdoc/>
    public override bool LeaksLargely => true;

    /// <inheritdoc/>
    public override string LeakageWord => "gate leakage";

    /// <summary>One whose gate leaks to its drain, which is where a gate that nothing holds drifts to until the channel conducts.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtMostLeakage() => (this with { GateLeaks = true }, new(GateAmps, Unit.Amps));

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        if (GateLeaks)
            yield return new Resistor(Name + ".gate", Drain, Gate, Type.Sheet.GateVolts / GateAmps);
        string inner = Type.SeriesOhms > 0 ? DrainName : Drain;
        yield return new MosTransistor(Name, inner, Gate, Source, Type.Model);
        if (Type.SeriesOhms > 0)
            yield return new Resistor(DrainName, Drain, inner, Type.SeriesOhms) { TempCo = SeriesTempCo };
        yield return new Diode(BodyName, IsN ? Source : Drain, IsN ? Drain : Source, Type.Body);
    }

    // The node behind the resistance in series with the channel, and the resistor that makes it.
    private string DrainName => Name + ".drain";

    private string BodyName => Name + ".body";
}
