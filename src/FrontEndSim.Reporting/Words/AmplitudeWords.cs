using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting.Words;

/// <summary>How large what alternates is, and what firmware makes of it, in words.</summary>
internal static class AmplitudeWords
{
    /// <summary>"rms", "mean magnitude", "peak".</summary>
    public static string Of(Amplitude said) => said switch
    {
        Amplitude.Rms => "rms",
        Amplitude.Mean => "mean magnitude",
        Amplitude.Average => "average",
        _ => "peak",
    };

    /// <summary>A reading over periods, of nominal parts.</summary>
    public static IEnumerable<Block> Of(AlternatingResult r) =>
    [
        new Table($"Reading {r.Reading} over whole periods: {r.Counted()}",
            [
                new(r.Said is { } said ? Of(said) : "measured", ColumnKind.Number, r.SensorUnit),
                    new("lowest code", ColumnKind.Plain) { Digits = 10 },
                new("highest code", ColumnKind.Plain) { Digits = 10 },
                new($"{Of(r.Taken)} of the codes", ColumnKind.Number, "counts") { Digits = 5 },
                new("reading off", ColumnKind.Signed, r.SensorUnit),
            ],
            [
                .. r.Points.Select(p => (ImmutableArray<Cell>)[p.SensorValue, p.LowestCode, p.HighestCode, p.Counts, p.ReadingError]),
            ]),
    ];

    private static string Counted(this AlternatingResult r) =>
        $"a count is {(r.Back.IsLine ? "" : "at most ")}{Figures.Of(r.Factor, r.SensorUnit, 3)}" + (r.Passes is { } passes
            ? $", and at its frequency the circuit lets {Figures.Percent(passes, 5)} of it through"
            : ", from the circuit followed in time until its periods are alike");

    private static string Made(FirmwareAlternating f) => !f.Back.IsLine ? $"a polynomial of degree {f.Back.Coefficients.Length - 1} in"
        : (f.Back.Coefficients[0] is var offset and not 0 ? $"{Figures.Of(offset, f.Unit, 6)} and " : "")
            + $"{Figures.Of(f.Back.Coefficients[1], f.Unit, 6)} times";

    /// <summary>What firmware does with the codes.</summary>
    public static IEnumerable<Line> Of(FirmwareAlternating f) =>
    [
        new("Codes", $"{f.Samples} of pin {f.Pin}, one every {Figures.Time(f.EverySeconds)}: "
            + $"{f.Samples * f.EverySeconds * f.Hertz:0} periods of {Figures.Of(f.Hertz, "Hz")}"),
        new("Reading", $"{f.Quantity} of {f.Sensor}{(f.Said is { } said ? $" ({Of(said)})" : "")} = {Made(f)} "
            + $"the {Of(f.Taken)} of the codes{(f.Taken == Amplitude.Average ? "" : ", their mean taken out")}; "
            + $"nominal parts depart by at most {Figures.Of(f.Residual, f.Unit, 3)}"),
    ];
}
