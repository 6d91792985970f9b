using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of bipolar transistor: a data sheet with a model fitted to it.</summary>
/// <param name="Name">Registered type number or a name of the user's.</param>
/// <param name="Sheet">The data sheet.</param>
/// <param name="Model">The model of a piece in the middle of the spread of gains, without its resistances.</param>
/// <param name="BaseOhms">Resistance of the base, ohm; zero for none.</param>
/// <param name="CollectorOhms">Resistance of the collector, ohm; zero for none.</param>
/// <param name="GainFactor">The gain of the best piece over that of the middle one, and of that over the worst.</param>
/// <param name="LeastFactor">The gain of a piece that has no more than every least gain stated, over that of the model.</param>
/// <param name="Points">The numbers that the model was fitted to.</param>
public sealed record BipolarType(string Name, BipolarDataSheet Sheet, BipolarModel Model,
    double BaseOhms, double CollectorOhms, double GainFactor,
    double LeastFactor, ImmutableArray<TypeFigure> Points) : TransistorType(Name, Sheet)
{
    /// <inheritdoc/>
    public override bool TakesCurrent => true;

    /// <inheritdoc/>
    public override Part Placed(string name, string load, string control, string common) =>
        new BipolarPart(name, load, control, common, this);

    /// <inheritdoc/>
    public override string Kind => Sheet.Polarity == Polarity.N ? "npn" : "pnp";

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        .. Points,
        .. TypeFigure.Stated("rated power", Sheet.RatedWatts, "W"), .. TypeFigure.Stated("rated collector current", Sheet.RatedAmps, "A"),
        .. TypeFigure.Stated("rated collector-emitter voltage", Sheet.CollectorVolts, "V"),
        .. TypeFigure.Stated("rated collector-base voltage", Sheet.CollectorBaseVolts, "V"),
        .. TypeFigure.Stated("rated reverse emitter-base voltage", Sheet.EmitterVolts, "V"),
        .. TypeFigure.Stated("collector resistance of the model", CollectorOhms, "ohm"),
            .. TypeFigure.Stated("base resistance of the model", BaseOhms, "ohm"),
    ];

    /// <summary>A piece with another gain.</summary>
    /// <param name="factor">The gain over that of the model.</param>
    public BipolarType WithGain(double factor) =>
        this with { Model = Model with { ForwardGain = Model.ForwardGain * factor, RecombinationAmps = Model.RecombinationAmps / factor } };
}

/// <summary>A bipolar transistor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Collector">Collector.</param>
/// <param name="Base">Base.</param>
/// <param name="Emitter">Emitter.</param>
/// <param name="Type">Its type.</param>
public sealed record BipolarPart(string Name, string Collector, string Base, string Emitter, BipolarType Type)
    : TransistorPart<BipolarType>(Name, Type)
{
    // Base-emitter voltages of pieces of a type lie within 30 mV of each other either way (common practice, no source).
    private const double BaseVoltsSpread = 0.03;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("base", Base), new("collector", Collector), new("emitter", Emitter)];

    /// <inheritdoc/>
    protected override ImmutableArray<Rating> Limits =>
    [
        // No terminal carries more than the collector may: where no base current is stated, that bounds it (common practice, no source).
        .. Rating.Stated(new(RatingKind.PeakCurrent,
            new CurrentThrough([Name, .. Type.BaseOhms > 0 ? [BaseName] : Array.Empty<string>()]), Type.Sheet.RatedAmps, Type.Source)),
        .. Voltage(Collector, Emitter, Type.Sheet.CollectorVolts),
        .. Voltage(Collector, Base, Type.Sheet.CollectorBaseVolts),
        .. Voltage(Emitter, Base, Type.Sheet.EmitterVolts, RatingKind.ReverseVoltage),
        // The wrong way round the emitter junction breaks down through the conducting collector junction.
        .. Voltage(Emitter, Collector, Type.Sheet.EmitterVolts, RatingKind.ReverseVoltage),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
    [
        ErrorSource.Factor(Name + " current gain", ErrorKind.Gain, Type.GainFactor, new VariedNumber(Name, BipolarTransistor.CurrentGain)),
        ErrorSource.Factor(Name + " base-emitter voltage", ErrorKind.OffsetVoltage,
            Math.Exp(BaseVoltsSpread / Engine.Constants.ThermalVolts(Engine.Constants.ReferenceKelvin)),
            new VariedNumber(Name, BipolarTransistor.SaturationCurrent)),
        // A tenth of the largest is usual (common practice, no source).
        new ErrorSource(Name + " leakage", new RectangularInput(Math.Log(0.1), 0), ErrorKind.Leakage,
            [new VariedNumber(LeakageName, Diode.LeakageConductance)], (now, x, _) => now * Math.Exp(x)),
    ];

    /// <inheritdoc/>
    public override string LimitWord => "current gain";

    // The leakage of the collector junction is the same at all voltages beyond some tenths of a volt: the largest that the sheet states
    // holds below its own voltage as well. The junction conducts forward in the transistor's own law.
    private Diode CollectorLeakage(string inner)
    {
        const double fading = 0.1;
        var model = new DiodeModel
        {
            SaturationAmps = 1e-24,
            EmissionCoefficient = 1,
            ActivationVolts = 1.12, // diffusion in silicon (Sze)
            TemperatureExponent = 3,
            JunctionVolts = fading,
            LeakageSiemens = Type.Sheet.LeakageAmps / fading,
            LeakageExponent = 0,
            LeakageDoublingKelvin = Type.Sheet.HotLeakage is { } hot
                ? (hot.Celsius - 25) / Math.Log2(hot.Amps / Type.Sheet.LeakageAmps) : UsualDoublingKelvin,
        };
        return IsN ? new(LeakageName, inner, Collector, model) : new(LeakageName, Collector, inner, model);
    }

    // Common practice, no source.
    private const double UsualDoublingKelvin = 10;

    private string LeakageName => Name + ".leakage";

    /// <summary>A piece of the least or the largest gain.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        var type = Type.WithGain(high ? Type.GainFactor : Type.LeastFactor);
        return (this with { Type = type }, Quantity.Number(type.Model.ForwardGain));
    }

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        string collector = Type.CollectorOhms > 0 ? CollectorName : Collector, inner = Type.BaseOhms > 0 ? BaseName : Base;
        yield return new BipolarTransistor(Name, collector, inner, Emitter, Type.Model);
        yield return CollectorLeakage(inner);
        if (Type.CollectorOhms > 0)
            yield return new Resistor(CollectorName, Collector, collector, Type.CollectorOhms);
        if (Type.BaseOhms > 0)
            yield return new Resistor(BaseName, Base, inner, Type.BaseOhms);
    }

    // The nodes behind the resistances, and the resistors that make them.
    private string CollectorName => Name + ".collector";

    private string BaseName => Name + ".base";
}
