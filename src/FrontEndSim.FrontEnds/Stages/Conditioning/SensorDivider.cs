using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>The resistor that makes a divider of a resistive sensor, chosen for the straightest curve or for the largest change over the
/// span.</summary>
internal sealed class SensorDivider : StageKind
{
    // Places of the span at which the curve is held against its straight line.
    private const int Places = 201;

    public override string Name => "sensor-divider";

    public override string Summary =>
        "The resistor from a supply to a resistive sensor: chosen so that the voltage is as straight, or changes as much, as it can over "
        + "the span.";

    internal static Setting<(Sensor Sensor, Rail Rail)> Reads { get; } = Setting.Of("reads", true,
        "The sensor, from its node to ground, and the supply that the resistor leads to.",
        new SensorBlank("sensor"), "from", new RailBlank("rail"));

    internal static Setting<bool> IsStraight { get; } = Setting.Of("best", false,
        "What the resistor is chosen for: linearity or resolution; resolution if left out.",
        OneOf("aim", ("linearity", true), ("resolution", false)));

    internal static PartSetting Itself { get; } = Resistor("resistor", "The resistor itself.");

    /// <summary>What a sensor heats itself by.</summary>
    internal static AmountSetting Heats { get; } = new("heats", false,
        "Dissipation constant of the sensor in what it measures, watts for a kelvin.", new("value", Unit.Watt), "per", "K");

    protected override ImmutableArray<Setting> OwnSettings { get; } = [Reads, IsStraight, Itself, PreferredResistors, Heats];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (sensor, rail) = request.Get(Reads);
        if (sensor.Output != Unit.Ohm)
            throw new StageProblemException("reads", new(ProblemKind.NoResistance, sensor.Name));
        double supply = rail.Volts.Value;
        if (supply == 0)
            throw new StageProblemException("reads", new(ProblemKind.RailAtZero, rail.Name));
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        double low = Ohms(sensor, 0), high = Ohms(sensor, 1), geometric = Math.Sqrt(low * high);
        bool straight = request.Get(IsStraight, false), isGiven = request.Has(Itself);
        if (isGiven && request.Has(IsStraight))
            throw new StageProblemException("best", new(ProblemKind.Follows, "", Itself.Name));
        double wanted = straight ? Straightest(sensor) : geometric;
        var resistor = request.Toleranced(Itself, tolerance, series.Nearest(wanted));
        double r = resistor.Value;
        var math = ImmutableArray.CreateBuilder<HandStep>();
        math.Add(new($"sensor at {At(sensor, sensor.Span.Low)}", "R1", sensor.Law?.Text ?? "", low, "ohm"));
        math.Add(new($"sensor at {At(sensor, sensor.Span.High)}", "R2", sensor.Law?.Text ?? "", high, "ohm"));
        if (!isGiven)
        {
            math.Add(straight ? new("resistor with which the curve strays least from a straight line",
                "least of max |V − line|", $"{Places} places of the span", wanted, "ohm")
                : new("resistor with which the voltage changes most over the span", "R = √(R1·R2)",
                    $"√({ShiftHandMath.Ohms(low)}·{ShiftHandMath.Ohms(high)})", wanted, "ohm"));
        }
        foreach (double ohms in new[] { low, high })
        {
            double volts = supply * ohms / (r + ohms);
            math.Add(new($"voltage with the sensor at {ShiftHandMath.Ohms(ohms)}", $"V = {rail.Name}·Rs/(R + Rs)",
                $"{ShiftHandMath.V(supply)}·{ShiftHandMath.Ohms(ohms)}/({ShiftHandMath.Ohms(r)} + {ShiftHandMath.Ohms(ohms)})", volts, "V")
            {
                Measure = new VoltageMeasure(sensor.Node, null, ohms - sensor.SourceOhms),
                Allowed = Math.Abs(supply) * (tolerance / 2 + 1e-3),
            });
        }
        math.Add(new("nonlinearity, of the change over the span", "max |V − line|/|V2 − V1|",
            $"{ShiftHandMath.Ohms(r)}, {Places} places", Bend(sensor, r), ""));
        double worst = Math.Clamp(r, Math.Min(low, high), Math.Max(low, high)), watts = supply * supply * worst / Math.Pow(r + worst, 2);
        math.Add(new("largest power in the sensor", "P = Vs²·Rs/(R + Rs)², Rs nearest to R",
            $"({ShiftHandMath.V(supply)})²·{ShiftHandMath.Ohms(worst)}/({ShiftHandMath.Ohms(r)} + {ShiftHandMath.Ohms(worst)})²",
            watts, "W"));
        math.AddRange(Heated(request, watts));
        return new Stage(name, Name, [new("on", sensor.Node)],
            [new ResistorPart(name + ".R", rail.Name, sensor.Node, resistor) { Role = Role.ReferenceResistor }])
        {
            HandMath = math.ToImmutable(),
            Heats = HeatsOf(request, sensor),
        };
    }

    /// <summary>What is said of a sensor's dissipation constant; null for nothing.</summary>
    /// <exception cref="StageProblemException">The sensor itself says something else.</exception>
    internal static (string Sensor, double WattsPerKelvin)? HeatsOf(StageRequest request, Sensor sensor)
    {
        if (!request.Has(Heats))
            return null;
        double heats = request.Positive(Heats);
        return sensor.WattsPerKelvin is { } own && Math.Abs(own - heats) > 1e-9 * own
            ? throw new StageProblemException(Heats.Name, new(ProblemKind.DissipationKnown, sensor.Name, "", new(own, Unit.Watt)))
            : (sensor.Name, heats);
    }

    /// <summary>How far a power heats the sensor; nothing where it is not said what it heats itself by.</summary>
    internal static IEnumerable<HandStep> Heated(StageRequest request, double watts)
    {
        if (!request.Has(Heats))
            yield break;
        double heats = request.Positive(Heats);
        yield return new("how far it heats itself", "ΔT = P/D", $"{SiText.Format(watts, "W", 3)}/({SiText.Format(heats, "W")}/K)",
            watts / heats, "K");
    }

    private static string At(Sensor sensor, double value) => SiText.Plain(value, sensor.UnitText);

    private static double Ohms(Sensor sensor, double share) => sensor.OutputAt(sensor.Span.At(share)) + sensor.SourceOhms;

    /// <summary>How far the divided voltage strays from the line between its ends, over the distance of the ends.</summary>
    internal static double Bend(Sensor sensor, double ohms)
    {
        double V(double share) => Ohms(sensor, share) / (ohms + Ohms(sensor, share));
        double first = V(0), last = V(1), worst = 0;
        for (int k = 1; k < Places - 1; k++)
        {
            double share = (double)k / (Places - 1);
            worst = Math.Max(worst, Math.Abs(V(share) - first - (last - first) * share));
        }
        return worst / Math.Abs(last - first);
    }

    /// <summary>The resistor of the least bend over what is of the sensor's own size, by an ever finer grid: the bend has one valley, which
    /// may lie beyond either end, as of a resistance that is a straight line itself.</summary>
    private static double Straightest(Sensor sensor)
    {
        double least = Math.Min(Ohms(sensor, 0), Ohms(sensor, 1)), most = Math.Max(Ohms(sensor, 0), Ohms(sensor, 1));
        double from = Math.Log(least / 30), to = Math.Log(most * 30), best = from;
        for (int round = 0; round < Rounds; round++)
        {
            double step = (to - from) / (GridPoints - 1);
            best = Enumerable.Range(0, GridPoints).Select(k => from + k * step).MinBy(logOhms => Bend(sensor, Math.Exp(logOhms)));
            (from, to) = (Math.Max(from, best - step), Math.Min(to, best + step));
        }
        return Math.Exp(best);
    }

    // Each round leaves a tenth of the one before: a millionth in all.
    private const int GridPoints = 21, Rounds = 7;
}
