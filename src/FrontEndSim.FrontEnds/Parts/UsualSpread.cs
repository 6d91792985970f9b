namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// What is taken for the spread of something where neither the file nor a data sheet says it: the one table of these numbers.
/// </summary>
/// <param name="Of">Of what: "resistor".</param>
/// <param name="Amount">How much either way: a fraction, 1/K, or a factor; of an absolute spread in its unit.</param>
/// <param name="Unit">Symbol of its unit: "%" for a fraction, "times" for a factor on a logarithmic scale.</param>
/// <param name="Source">Where it is from.</param>
public sealed record UsualSpread(string Of, double Amount, string Unit, string Source)
{
    private const string Practice = "common practice, no source";

    /// <summary>Tolerance of a resistor, of a stage or by itself, that is chosen from no series.</summary>
    public static readonly UsualSpread Resistor = new("resistor", 0.05, "%", "E24, IEC 60063");

    /// <summary>Tolerance of a burden, which is bought for its precision.</summary>
    public static readonly UsualSpread Burden = new("burden", 0.01, "%", "E96, IEC 60063");

    /// <summary>Tolerance of a potentiometer's track.</summary>
    public static readonly UsualSpread Potentiometer = new("potentiometer", 0.2, "%", Practice);

    /// <summary>Tolerance of a capacitor.</summary>
    public static readonly UsualSpread Capacitor = new("capacitor", 0.1, "%", "E12, IEC 60063");

    /// <summary>Tolerance of a capacitor that sets a frequency or holds a voltage.</summary>
    public static readonly UsualSpread FilterCapacitor =
        new("capacitor of a filter, a hold or a transimpedance stage", 0.05, "%", Practice);

    /// <summary>Tolerance of an electrolytic reservoir.</summary>
    public static readonly UsualSpread Reservoir = new("reservoir", 0.2, "%", Practice);

    /// <summary>Tolerance of a rail or reference.</summary>
    public static readonly UsualSpread Rail = new("rail or reference", 0.05, "%", Practice);

    /// <summary>Resistance of the leads of a sensor that is a resistance: copper of a length and a temperature that nobody measures
    /// (0.39 %/K).</summary>
    public static readonly UsualSpread Leads = new("leads of a sensor that is a resistance", 0.1, "%", Practice);

    /// <summary>Source resistance of a sensor that gives a voltage or a current.</summary>
    public static readonly UsualSpread SensorSource = new("source resistance of a sensor", 0.2, "%", Practice);

    /// <summary>Temperature coefficient of a resistor.</summary>
    public static readonly UsualSpread ResistorDrift = new("drift of a resistor", 100e-6, "1/K", Practice);

    /// <summary>Temperature coefficient of a rail.</summary>
    public static readonly UsualSpread RailDrift = new("drift of a rail", 50e-6, "1/K", Practice);

    /// <summary>Open-loop gain of an op amp, of which a typical value is known.</summary>
    public static readonly UsualSpread Gain = new("open-loop gain of an op amp", 4, "times", Practice);

    /// <summary>Gain-bandwidth product of an op amp, of which a typical value is known.</summary>
    public static readonly UsualSpread Bandwidth = new("gain-bandwidth product of an op amp", 0.3, "%", Practice);

    /// <summary>A leakage of which a typical value is known.</summary>
    public static readonly UsualSpread Leakage = new("leakage of a junction", 10, "times", Practice);

    /// <summary>Charge that a junction stores while it conducts, of which sheets state a typical recovery time.</summary>
    public static readonly UsualSpread Recovery = new("stored charge of a junction", 0.5, "%", Practice);

    /// <summary>Voltage of a zener: the A suffix of the 1N4728A series, and the C of half-watt zeners.</summary>
    public static readonly UsualSpread Zener = new("voltage of a zener", 0.05, "%", "suffixes A and C, from memory");

    /// <summary>Resistance of a polymer fuse: from the least of a new one to the largest of one that has tripped once.</summary>
    public static readonly UsualSpread PolymerFuse = new("resistance of a polymer fuse", 2, "times", "makers' sheets, from memory");

    /// <summary>Cold resistance of a fuse, and that of a bead's wire.</summary>
    public static readonly UsualSpread Wire = new("resistance of a fuse or a bead", 0.25, "%", Practice);

    /// <summary>Resistance of a cable's wires, or of an inductor's, at the temperature that it is stated at.</summary>
    public static readonly UsualSpread Copper = new("resistance of a cable or an inductor", 0.05, "%", Practice);

    /// <summary>Spark-over voltage of a gas arrester.</summary>
    public static readonly UsualSpread GasArrester = new("spark-over of a gas arrester", 0.2, "%", Practice);

    /// <summary>Voltage of a varistor at its test current.</summary>
    public static readonly UsualSpread Varistor = new("voltage of a varistor", 0.1, "%", Practice);

    /// <summary>All of them.</summary>
    public static ImmutableArray<UsualSpread> All { get; } =
    [
        Resistor, Burden, Potentiometer, Capacitor, FilterCapacitor, Reservoir, Rail, Leads, SensorSource,
        ResistorDrift, RailDrift, Gain, Bandwidth, Leakage, Recovery, Zener,
        PolymerFuse, Wire, Copper, GasArrester, Varistor,
    ];

    /// <summary>What the amount makes of a value at either end.</summary>
    internal double Factor(bool high) => high ? 1 + Amount : 1 - Amount;

    /// <summary>The amount as a person reads it: "±5 %", "a quarter to 4 times" as "1/4 .. 4 times".</summary>
    public string Text => Unit == "times" ? $"1/{SiText.Plain(Amount, "", 3)} .. {SiText.Plain(Amount, "", 3)} times"
        : $"±{SiText.Format(Amount, Unit, 3)}";
}
