namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>
/// A thermocouple by the reference functions of IEC 60584-1 (ITS-90, NIST Monograph 175): the voltage of its type between the junction that
/// measures and the cold one, which is where the circuit is.
/// </summary>
/// <param name="Type">Its type: K, J or T.</param>
public sealed record ThermocoupleLaw(ThermocoupleType Type) : SensorLaw
{
    /// <summary>By how much the firmware may be wrong about the temperature of the cold junction either way, K; zero for not at
    /// all.</summary>
    public double ColdJunctionError { get; init; }

    /// <summary>Whether another pin measures the temperature of the cold junction, so that its errors are those of that reading.</summary>
    public bool IsJunctionMeasured { get; init; }

    /// <inheritdoc/>
    public override Unit Output => Unit.Volts;

    /// <inheritdoc/>
    public override bool IsOfTemperature => true;

    /// <inheritdoc/>
    public override bool NeedsAmbient => true;

    /// <inheritdoc/>
    public override Span? Validity => Type.Celsius;

    /// <inheritdoc/>
    public override string Text => $"thermocouple of type {Type.Name}";

    private protected override ImmutableArray<(string Name, double Limit)> Tolerances => [("cold junction", ColdJunctionError)];

    private protected override double Value(double quantity, double celsius, double first, double second) =>
        Type.Volts(quantity) - Type.Volts(celsius + first);
}

/// <summary>A type of thermocouple and its reference function.</summary>
/// <param name="Name">Its letter.</param>
/// <param name="Pieces">Polynomials in °C that give mV, lowest power first, each up to its upper end, °C, in order.</param>
/// <param name="Celsius">Where they hold, °C.</param>
public sealed record ThermocoupleType(string Name, ImmutableArray<(double UpTo, ImmutableArray<double> Millivolts)> Pieces, Span Celsius)
{
    // Type K has an exponential beside its polynomial from 0 °C up.
    private const double PeakMillivolts = 0.1185976, PeakSharpness = -1.183432e-4, PeakCelsius = 126.9686;

    /// <summary>The types, with their coefficients from NIST Monograph 175 (from memory, found again in public code; held against the
    /// printed tables by tests).</summary>
    public static ImmutableArray<ThermocoupleType> All { get; } =
    [
        new("K",
        [
            (0, [0, 0.394501280250e-1, 0.236223735980e-4, -0.328589067840e-6, -0.499048287770e-8,
                -0.675090591730e-10, -0.574103274280e-12, -0.310888728940e-14,
                -0.104516093650e-16, -0.198892668780e-19, -0.163226974860e-22]),
            (1372, [-0.176004136860e-1, 0.389212049750e-1, 0.185587700320e-4, -0.994575928740e-7,
                0.318409457190e-9, -0.560728448890e-12, 0.560750590590e-15,
                -0.320207200030e-18, 0.971511471520e-22, -0.121047212750e-25]),
        ], new(-270, 1372)),
        new("J",
        [
            (760, [0, 0.503811878150e-1, 0.304758369300e-4, -0.856810657200e-7, 0.132281952950e-9,
                -0.170529583370e-12, 0.209480906970e-15, -0.125383953360e-18,
                0.156317256970e-22]),
            (1200, [0.296456256810e3, -0.149761277860e1, 0.317871039240e-2, -0.318476867010e-5, 0.157208190040e-8, -0.306913690560e-12]),
        ], new(-210, 1200)),
        new("T",
        [
            (0, [0, 0.387481063640e-1, 0.441944343470e-4, 0.118443231050e-6, 0.200329735540e-7,
                0.901380195590e-9, 0.226511565930e-10, 0.360711542050e-12,
                0.384939398830e-14, 0.282135219250e-16, 0.142515947790e-18, 0.487686622860e-21,
                    0.107955392700e-23, 0.139450270620e-26, 0.797951539270e-30]),
            (400, [0, 0.387481063640e-1, 0.332922278800e-4, 0.206182434040e-6, -0.218822568460e-8,
                0.109968809280e-10, -0.308157587720e-13, 0.454791352900e-16,
                -0.275129016730e-19]),
        ], new(-270, 400)),
    ];

    /// <summary>Voltage against a junction at 0 °C, V.</summary>
    /// <param name="celsius">Temperature, °C.</param>
    public double Volts(double celsius)
    {
        int piece = 0;
        while (piece < Pieces.Length - 1 && !(celsius <= Pieces[piece].UpTo))
            piece++;
        var coefficients = Pieces[piece].Millivolts.AsSpan();
        double sum = 0;
        for (int k = coefficients.Length - 1; k >= 0; k--)
            sum = sum * celsius + coefficients[k];
        if (Name == "K" && celsius > 0)
            sum += PeakMillivolts * Math.Exp(PeakSharpness * (celsius - PeakCelsius) * (celsius - PeakCelsius));
        return 1e-3 * sum;
    }
}
