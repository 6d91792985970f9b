using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>
/// A constant current through a resistive sensor that stands between the output and the minus input of an op amp: I = Vref/Rref, so that
/// the
/// output is Vref + I·Rs, a straight line of the sensor's resistance.
/// </summary>
internal sealed class SensorCurrent : StageKind
{
    // Above the offset of any op amp by far, and little of a supply (common practice, no source).
    private const double UsualVolts = 0.5, DividerOhms = 30e3;

    public override string Name => "sensor-current";

    public override string Summary =>
        "Drives a constant current through a resistive sensor, such as a platinum resistor, with one op amp: its output is a straight "
        + "line of the resistance.";

    private static Setting<Sensor> Through { get; } = Setting.Of("through", true,
        "The sensor, its first node the output, its second the minus input of the op amp.", new SensorBlank("sensor"));

    private static AmountSetting Current { get; } = RequiredAmount("current", "The current.", Unit.Amps);

    private static Setting<Rail> From { get; } = Setting.Of("offset", true,
        "The rail that the current is taken from; a converter that measures against it cancels its drift.", new RailBlank("rail"), "from");

    private static AmountSetting Level { get; } =
        Amount("level", "Voltage across the resistor that sets the current; 0.5 V if left out.", Unit.Volts);

    private static PartSetting Reference { get; } =
        Resistor("reference", "Resistor from the sensor's second node to ground, Rref.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Through, Current, From, Level, OpAmp, PreferredResistors, Reference, SensorDivider.Heats];

    private const double LeastShare = 1e-3;

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, plus = name + ".PLUS";
        var sensor = request.Get(Through);
        if (sensor.Output != Unit.Ohm || sensor.Other == Circuit.Ground || sensor.Node == Circuit.Ground)
            throw new StageProblemException("through", new(ProblemKind.NoResistanceOfTwoNodes, sensor.Name));
        var amp = request.Get(OpAmp).Checked();
        var rail = request.Get(From);
        double amps = request.Positive(Current), level = request.Positive(Level, UsualVolts), supply = rail.Volts.Value;
        double share = level / supply;
        if (!(share > 0 && share < 1))
            throw new StageProblemException("offset", new(ProblemKind.LevelNotDivided, rail.Name, "", new(level, Unit.Volts),
                High: new(supply, Unit.Volts)));
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        var reference = request.Toleranced(Reference, tolerance, series.Nearest(level / amps));
        // What the reference resistor's series leaves is made up for by the divider.
        double wanted = amps * reference.Value / supply;
        // The divider's resistors are three decades apart at most, as a series of preferred numbers is worth its tolerance.
        if (!(wanted is > LeastShare and < 1 - LeastShare))
            throw new StageProblemException(Reference.Name, new(ProblemKind.ReferenceNotDivided, rail.Name, "", new(amps, Unit.Amps),
                High: new(supply, Unit.Volts))
            {
                Wanted = new(reference.Value, Unit.Ohm),
            });
        var pair = (from a in series.Between(DividerOhms * (1 - wanted) / Math.Sqrt(10), DividerOhms * (1 - wanted) * Math.Sqrt(10))
                    from b in series.Neighbours(a * wanted / (1 - wanted)).Distinct()
                    orderby Math.Max(1e-4, Math.Abs(b / (a + b) / wanted - 1)), Math.Abs(Math.Log((a + b) / DividerOhms))
                    select (Upper: a, Lower: b)).First();
        double volts = supply * pair.Lower / (pair.Upper + pair.Lower), current = volts / reference.Value;
        string R(double ohms) => SiText.Format(ohms, "ohm", 5);
        var math = ImmutableArray.CreateBuilder<HandStep>();
        math.Add(new("voltage that sets the current", "Vref = Vrail·Rb/(Ra + Rb)",
            $"{ShiftHandMath.V(supply)}·{R(pair.Lower)}/({R(pair.Upper)} + {R(pair.Lower)})", volts, "V")
        { Measure = new VoltageMeasure(plus), Allowed = 2 * tolerance * volts });
        math.Add(new("current", "I = Vref/Rref", $"{SiText.Format(volts, "V", 5)}/{R(reference.Value)}", current, "A"));
        double worst = 0;
        foreach (double at in new[] { 0.0, 1 })
        {
            double ohms = sensor.OutputAt(sensor.Span.At(at)), all = ohms + sensor.SourceOhms;
            worst = Math.Max(worst, current * current * ohms);
            math.Add(new($"output at {SiText.Plain(sensor.Span.At(at), sensor.UnitText)}", "Vo = Vref + I·Rs",
                $"{SiText.Format(volts, "V", 5)} + {SiText.Format(current, "A", 5)}·{R(all)}", volts + current * all, "V")
            {
                Measure = new VoltageMeasure(sensor.Node, null, ohms),
                Allowed = 3 * tolerance * (volts + current * all),
            });
        }
        math.Add(new("largest power in the sensor", "P = I²·Rs",
            $"({SiText.Format(current, "A", 4)})²·{R(worst / current / current)}", worst, "W"));
        math.AddRange(SensorDivider.Heated(request, worst));
        return new Stage(name, Name, [new("on", sensor.Node)],
        [
            new ResistorPart(name + ".Ra", rail.Name, plus, new(pair.Upper, tolerance)) { Role = Role.ReferenceResistor },
            new ResistorPart(name + ".Rb", plus, Circuit.Ground, new(pair.Lower, tolerance)),
            new ResistorPart(name + ".Rref", sensor.Other, Circuit.Ground, reference),
            amp.Part(name + ".U1", plus, sensor.Other, sensor.Node),
        ])
        { HandMath = math.ToImmutable(), Heats = SensorDivider.HeatsOf(request, sensor) };
    }
}
