using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Tests.Reference;

/// <summary>Operating point and sweep against SciPy's Brent root finder and closed forms (tests/reference).</summary>
public sealed class RestAgainstRootFinderTests
{
    private static Circuit SweptGuard(ReferenceCase reference) =>
        new([new VoltageSource("sensor", "in", "GND", 0.0), .. ReferenceCircuits.Guard(reference)]);

    [Fact]
    public void The_clamped_pin_of_a_swept_guard_agrees_to_1e_8_or_a_nanovolt()
    {
        var reference = ReferenceCase.Read("clamp_dc");
        var sweep = SweptGuard(reference).Compile().Sweep("sensor", reference.Column("source_V"));
        Agreement.AtEachPoint("pin of the swept guard", reference.Column("pin_V"), sweep.Voltage("pin"), 1e-8, 1e-9);
        foreach (string diode in (string[])["zener", "schottky", "upper", "lower"])
        {
            // The current that a nanovolt across 4.7 kohm carries is the current that a nanovolt at the pin is worth.
            double[] amps = [.. sweep.Points.Select(p => p.Parts[diode].Amps)];
            Agreement.AtEachPoint($"current of the {diode} diode", reference.Column($"{diode}_A"), amps, 1e-7,
                1e-9 / reference["SeriesOhms"]);
        }
    }

    [Fact]
    public void The_operating_point_solved_afresh_agrees_with_the_sweep_of_the_reference()
    {
        var reference = ReferenceCase.Read("clamp_dc");
        double[] source = reference.Column("source_V");
        double[] pin = [.. source.Select(v =>
            new Circuit([new VoltageSource("sensor", "in", "GND", v), .. ReferenceCircuits.Guard(reference)])
            .Compile().SolveOperatingPoint().Nodes["pin"])];
        Agreement.AtEachPoint("pin of the guard at rest", reference.Column("pin_V"), pin, 1e-8, 1e-9);
    }

    [Fact]
    public void A_junction_behind_a_resistance_carries_what_Lamberts_W_gives_from_minus_40_to_85_degrees()
    {
        // Banwell and Jayakumar, Electronics Letters 36(4), 2000.
        var reference = ReferenceCase.Read("diode_lambert");
        var amps = new double[reference.Rows];
        for (int row = 0; row < reference.Rows; row++)
        {
            double At(string column) => reference.Column(column)[row];
            var model = new DiodeModel
            {
                SaturationAmps = At("SaturationAmps"),
                EmissionCoefficient = At("EmissionCoefficient"),
                ActivationVolts = At("ActivationVolts"),
                TemperatureExponent = At("TemperatureExponent"),
                SeriesOhms = At("ohms"),
            };
            amps[row] = new Circuit([new VoltageSource("source", "a", "GND", At("volts_V")), new Diode("junction", "a", "GND", model)],
                At("celsius_C"))
                .Compile().SolveOperatingPoint().Parts["junction"].Amps;
        }
        // Relative throughout: no absolute allowance.
        Agreement.AtEachPoint("current by Lambert's W", reference.Column("amps_A"), amps, 1e-9, 0);
    }

    [Fact]
    public void A_resistor_in_front_of_a_junction_and_a_resistance_inside_it_are_the_same()
    {
        var reference = ReferenceCase.Read("diode_lambert");
        var amps = new double[reference.Rows];
        for (int row = 0; row < reference.Rows; row++)
        {
            double At(string column) => reference.Column(column)[row];
            var model = new DiodeModel
            {
                SaturationAmps = At("SaturationAmps"),
                EmissionCoefficient = At("EmissionCoefficient"),
                ActivationVolts = At("ActivationVolts"),
                TemperatureExponent = At("TemperatureExponent"),
            };
            amps[row] = new Circuit(
                [
                    new VoltageSource("source", "a", "GND", At("volts_V")), new Resistor("series", "a", "k", At("ohms")),
                    new Diode("junction", "k", "GND", model),
                ], At("celsius_C")).Compile().SolveOperatingPoint().Parts["junction"].Amps;
        }
        Agreement.AtEachPoint("current by Lambert's W, resistor outside", reference.Column("amps_A"), amps, 1e-9, 0);
    }

    [Fact]
    public void A_zener_shifts_with_its_temperature_coefficient()
    {
        var reference = ReferenceCase.Read("zener_temperature");
        double[] celsius = reference.Column("celsius_C"), source = reference.Column("source_V");
        var points = Enumerable.Range(0, reference.Rows).Select(row => new Circuit(
            [
                new VoltageSource("source", "in", "GND", source[row]), new Resistor("series", "in", "cathode", reference["Ohms"]),
                new Diode("zener", "GND", "cathode", reference.Diode("zener")),
            ], celsius[row]).Compile().SolveOperatingPoint()).ToArray();
        Agreement.AtEachPoint("cathode", reference.Column("cathode_V"), [.. points.Select(p => p.Nodes["cathode"])], 1e-8, 1e-9);
        Agreement.AtEachPoint("zener current", reference.Column("amps_A"), [.. points.Select(p => p.Parts["series"].Amps)], 1e-8,
            1e-9 / reference["Ohms"]);
    }

    [Fact]
    public void A_summing_stage_shows_finite_gain_offset_and_bias_as_its_node_equations_say()
    {
        var reference = ReferenceCase.Read("opamp_dc");
        var output = new double[reference.Rows];
        for (int row = 0; row < reference.Rows; row++)
        {
            double At(string column) => reference.Column(column)[row];
            output[row] = new Circuit(
            [
                new VoltageSource("first", "v1", "GND", At("v1")), new VoltageSource("second", "v2", "GND", At("v2")),
                new VoltageSource("plus", "VP", "GND", 9.0), new VoltageSource("minus", "VN", "GND", -9.0),
                new Resistor("R1", "v1", "sum", At("r1")), new Resistor("R2", "v2", "sum", At("r2")),
                new Resistor("RF", "sum", "out", At("rf")), new Resistor("RC", "ref", "GND", At("rc")),
                new Resistor("RL", "out", "GND", At("rl")),
                new OpAmp("U1", "ref", "sum", "out", "VP", "VN", new OpAmpModel
                {
                    OpenLoopGain = At("gain"), OffsetVolts = At("offset"), BiasAmps = At("bias"), OffsetAmps = At("offset_current"),
                    InputOhms = At("ri"), OutputOhms = At("ro"),
                }),
            ]).Compile().SolveOperatingPoint().Nodes["out"];
        }
        Agreement.AtEachPoint("output of the summing stage", reference.Column("output_V"), output, 1e-9, 1e-12);
    }
}
