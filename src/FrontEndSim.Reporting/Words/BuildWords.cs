using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting.Words;

/// <summary>A build sheet in words.</summary>
internal static class BuildWords
{
    // Extra-low voltage: above it, work on a rail is for trained people (common practice, no source).
    private const double LowVolts = 50;

    // A shorter pulse is a peak to a reader, s.
    private const double LeastSeconds = 1e-9;

    /// <summary>What to buy: "0.25 W", "supply up to 36 V".</summary>
    public static string Of(PartsNeed? need) => need is null ? ""
        : (need.Kind == RatingKind.SupplyVoltage ? "supply up to " : "") + Figures.Of(need.Size, need.Unit);

    /// <summary>The worst that a part bears, and where.</summary>
    public static string Worst(PartsLine line)
    {
        string beyond = string.Join(", ", line.Worst.Where(w => w.IsBeyond).Select(Of));
        string kept = string.Join(", ", line.Worst.Where(w => !w.IsBeyond).Select(Of));
        return (line.IsBeyond ? "EXCEEDS ITS RATING: " : "") + beyond + (beyond == "" || kept == "" ? "" : "; ") + kept;

        static string Of(PartsWorst w) => Figures.Of(w.Found, w.Unit, 3)
            + (w.PulseSeconds is >= LeastSeconds and var seconds ? $" for {Figures.Time(seconds)}" : "") + $" ({Where(w)})";
    }

    /// <summary>What to set at a bench point.</summary>
    public static string Set(BenchPoint point) => point is { Sensor: { } sensor, SensorValue: { } volts }
        ? $"{sensor} at {Figures.Of(volts, point.SensorUnit)}"
            + (point.StandIn is { } standIn ? $" ({Figures.Of(standIn, point.StandInUnit, 5)})" : "")
        : "supplies on, sensor not connected";

    /// <summary>What the node of a bench point is.</summary>
    public static string Place(BenchPoint point) => point.Place switch
    {
        BenchPlace.Rail => $"rail {point.Of}",
        BenchPlace.Terminal => $"terminal of {point.Of}, loaded",
        BenchPlace.AmplifierOutput => $"output of {point.Of}",
        BenchPlace.StageOutput => $"output of stage {point.Of}",
        _ => $"pin {point.Of}" + (point.Channel is { } channel ? $", {channel.Multiplexer} at {channel.Node}" : ""),
    };

    /// <summary>A step of the assembly.</summary>
    public static string Of(AssemblyStep step) => step.Kind switch
    {
        AssemblyKind.Supplies =>
            $"Supplies: wire {string.Join(", ", step.Names)}{(step.Names.IsEmpty ? "" : " and ")}ground"
            + (step.Amplifiers.IsEmpty ? "" : ", with 100 nF at each op amp's supply pins (common practice)")
                + ". Set the supplies' current limits to twice what the circuit draws. Measure the rails, then switch off.",
        AssemblyKind.Stage =>
            $"Stage {step.Stage} ({step.StageKind}): fit {(step.Names.IsEmpty ? "no passive parts" : string.Join(", ", step.Names))}, "
            + "and check each value with the meter before soldering."
            + string.Concat(step.Mounting.Select(m => $" {m.Key}: {m.Value}."))
            + (step.Amplifiers.IsEmpty ? ""
                : $" Then {Figures.And(step.Amplifiers)} ({step.AmplifierType}) on {Figures.And(step.Supplies)}.")
            + (step.LeavesPinOpen ? " Leave the pin itself open for now." : ""),
        AssemblyKind.SingleParts =>
            $"Single parts: {string.Join(", ", step.Placed.Select(p => $"{p.Part} ({p.Value}, {string.Join(" to ", p.Nodes)})"))}.",
        AssemblyKind.Sensors => $"Put a bench supply or calibrator in place of "
            + string.Join(", ", step.Names.Zip(step.SourceOhms, (name, ohms) =>
                name + (ohms > 0 ? $", with {Figures.Of(ohms, "ohm")} in series" : ""))) + ", "
            + "switch on, and go through the bench points. Stop at the first that is out of its limits.",
        _ => $"Only then connect {string.Join(", ", step.Names.Select(n => "pin " + n))}, calibrate, and fit the sensor.",
    };

    /// <summary>The line of a straight sensor.</summary>
    public static IEnumerable<Line> Line(FirmwareConstants f, FirmwareLine line)
    {
        string unit = f.LineUnit;
        yield return new("Line",
            $"{f.Sensor} = {Figures.Of(line.Offset, unit, 7)} + {Figures.Of(line.Slope, unit, 7)} · code; codes {Codes(f)} over the span; "
            + $"the circuit departs from it by up to {Small(f.Residual, f.SensorUnit)}, and a step is "
                + $"{Figures.Of(Math.Abs(line.Slope), unit, 3)}");
        yield return new("Whole",
            $"in whole numbers of {line.Whole.ProductBits} bits the rounding is at most {Figures.Of(line.Whole.RoundingError, unit, 3)}, "
            + $"over every code");
        if (f.Couple is { } couple)
        {
            yield return new("Cold junction", $"the C adds the voltage of the type at the temperature of the cold junction and looks "
                + $"{f.Quantity} up in one table of {couple.Microvolts.Length} entries, "
                + $"{couple.StepCelsius} °C apart, with straight lines between them: within "
                    + $"{Figures.Of(couple.Residual, f.SensorUnit, 3)} of the type's own function over the span");
        }
    }

    /// <summary>The table of another sensor.</summary>
    public static IEnumerable<Line> Table(FirmwareConstants f, FirmwareTable table)
    {
        yield return new("Table", $"{table.Entries.Length} entries, {Figures.Whole(Math.Pow(2, table.Shift))} counts apart from "
            + $"{Figures.Whole(table.First)} on; codes {Codes(f)} over the span; "
            + $"with straight lines between them the circuit departs from it by up to {Small(f.Residual, f.SensorUnit)}");
        yield return new("Whole",
            $"in whole numbers of {table.ProductBits} bits the rounding is at most {Figures.Of(table.Rounding, f.SensorUnit, 3)}, over "
            + $"every code");
    }

    /// <summary>The polynomial that does in place of a table.</summary>
    public static IEnumerable<Line> Polynomial(FirmwareConstants f, FirmwarePolynomial p)
    {
        yield return new("Or", $"a polynomial of degree {p.Degree} in the code, for codes from {Figures.Whole(p.FirstCode)} to "
            + $"{Figures.Whole(p.LastCode)}: the circuit departs from it by up to {Small(p.Residual, f.SensorUnit)}; in whole numbers of "
            + $"{p.ProductBits} bits the rounding is at most {Figures.Of(p.Rounding, f.SensorUnit, 3)}");
    }

    /// <summary>The sensor's own formula in place of a table.</summary>
    public static IEnumerable<Line> Formula(FirmwareConstants f, FirmwareFormula formula)
    {
        string name = formula.Inverse.Kind switch
        {
            InverseKind.Beta => "the formula of its B",
            InverseKind.SteinhartHart => "the equation of Steinhart and Hart",
            _ => "the equation of IEC 60751",
        };
        yield return new("Or", $"{name} behind the resistance that follows from the code, in floating point with a logarithm or root: the "
            + $"circuit departs from it by up to {Small(formula.Residual, f.SensorUnit)}");
    }

    /// <summary>What is computed from several pins.</summary>
    public static IEnumerable<Line> Combined(FirmwareCombined r)
    {
        if (r.Junction is { } junction)
        {
            yield return new("Cold junction", $"the C adds the voltage of the type at what pin {r.Pins[1]} reads; the circuit departs from "
                + $"it by up to {Small(r.Residual, r.Unit)}");
            yield return new("Whole", $"in whole numbers the rounding of both pins, of the table and of the quotients is at most "
                + $"{Figures.Of(junction.Rounding, r.Unit, 3)}, at any codes inside of both spans");
        }
        if (r.Formula is not { } formula)
            yield break;
        yield return new("Formula", $"{formula} of the pins' shares, and a polynomial of degree {r.Coefficients.Length - 1} in that, in "
            + $"floating point: the circuit departs from it by up to {Small(r.Residual, r.Unit)}");
        yield return new("Whole", r.Whole is { } w
            ? $"in whole numbers of {w.ProductBits} bits, with a table of {w.WholeEntries.Length} entries, the rounding is at most "
                + $"{Figures.Of(w.Rounding, r.Unit, 3)} "
                + (w.LeastDenominator > 0 ? "wherever the denominator is at least half of what it is over the span" : "at all codes")
                + $", so that the circuit departs from it by up to {Small(r.Residual + w.Rounding, r.Unit)}"
            : r.InTheWay is { } kind ? $"none in whole numbers, as only floating point computes {Kind(kind)}"
                : "none in whole numbers, as the formula has numbers of too many digits for 64 bits");
    }

    private static string Kind(CalculationKind kind) => kind switch
    {
        CalculationKind.Exponential => "exp",
        CalculationKind.NaturalLogarithm => "ln",
        CalculationKind.DecimalLogarithm => "log10",
        _ => "a power that is neither a whole number up to 8 nor a half",
    };

    /// <summary>How the constants of a line become those of the board.</summary>
    public static IEnumerable<string> Calibration(FirmwareConstants f, CalibrationPlan c)
    {
        string x = f.SensorUnit == "V" ? "V" : "Q";
        string Of(double value) => Figures.Of(value, f.SensorUnit);
        yield return $"Set {f.Sensor} to {x}1 = {Of(c.Low)}, read N1 (about {Figures.Whole(c.LowCode)}); set it to {x}2 = {Of(c.High)}, "
            + $"read N2 (about {Figures.Whole(c.HighCode)}). Average some tens of readings each, and measure {x}1 and {x}2 with the best "
                + $"meter at hand.";
        yield return $"slope = ({x}2 − {x}1)/(N2 − N1), offset = {x}1 − slope · N1; write both in place of the constants above.";
        yield return $"What is left then: {Small(c.Left, f.SensorUnit)} of nonlinearity (INL), what temperature does, and the meter's own "
            + $"error.";
    }

    private static string Codes(FirmwareConstants f) => $"{Figures.Whole(f.LowCode)} .. {Figures.Whole(f.HighCode)}";

    private static string Small(double value, string unit) =>
        value >= 1e-9 ? Figures.Of(value, unit, 3) : unit == "V" ? "less than a nanovolt" : "less than a billionth of its unit";

    /// <summary>What may hurt a person or a part.</summary>
    public static IEnumerable<string> Cautions(BuildResult sheet) =>
    [
        "Ratings are limits and not operating values; parts that exceed theirs are marked.",
        .. sheet.HighestRailVolts > LowVolts
            ? [$"A rail is above {Figures.Volts(LowVolts)}: work on it needs trained people and local rules."] : Array.Empty<string>(),
        .. sheet.Cautions,
    ];

    private static string Where(PartsWorst worst) => worst.Event is { } name ? $"\"{name}\""
        : worst is { Sensor: { } sensor, SensorValue: { } volts } ? $"{sensor} at {Figures.Of(volts, worst.SensorUnit)}"
            : "operating point";
}
