using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of transistor: a data sheet with a model fitted to it.</summary>
/// <param name="Name">Registered type number or a name of the user's.</param>
/// <param name="Stated">What its data sheet states as every transistor's does.</param>
public abstract record TransistorType(string Name, TransistorDataSheet Stated) : PartType(Name, Stated.Source)
{
    /// <summary>Whether what turns it on is a current that lasts, and not a voltage alone.</summary>
    public abstract bool TakesCurrent { get; }

    /// <summary>A part of the type.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="load">Node of its collector or drain.</param>
    /// <param name="control">Node of its base or gate.</param>
    /// <param name="common">Node of its emitter or source.</param>
    public abstract Part Placed(string name, string load, string control, string common);
}

/// <summary>A transistor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Type">Its type.</param>
public abstract record TransistorPart<TType>(string Name, TType Type) : Part(Name) where TType : TransistorType
{
    /// <summary>Whether it is npn or n-channel.</summary>
    protected bool IsN => Type.Stated.Polarity == Polarity.N;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "transistor";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override string Symbol => Type.Kind;

    /// <inheritdoc/>
    public override bool IsSwitched => true;

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Power, Type.Stated.RatedWatts);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
        [JunctionPower(Type.Stated.RatedWatts, ambientCelsius, Type.Stated.MostJunctionCelsius, Type.Source), .. Limits];

    /// <summary>What it must not exceed beside its power.</summary>
    protected abstract ImmutableArray<Rating> Limits { get; }

    /// <summary>A voltage from one terminal to another of an n type, which is the other way round of a p type.</summary>
    private protected IEnumerable<Rating> Voltage(string plus, string minus, double limit, RatingKind? kind = null) => Rating.Stated(
        new(kind ?? RatingKind.Voltage, new VoltageAcross(IsN ? plus : minus, IsN ? minus : plus, EitherWay: false), limit, Type.Source));
}
