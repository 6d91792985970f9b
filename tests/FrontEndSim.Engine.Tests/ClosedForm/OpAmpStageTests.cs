using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Tests.Reference;


namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>
/// Op amp stages at rest against the textbook forms. With noise gain N = 1 + Rf/(R1 ∥ R2 ∥ …), open-loop gain A, offset
/// Vos and bias currents I+ and I−, the output is (−Rf·ΣVk/Rk + Rf·I− + N·(Vos − Rc·I+)) / (1 + N/A)
/// (any text on op amps; from memory). It neglects input and output resistance, which are made negligible here.
/// </summary>
public sealed class OpAmpStageTests
{
    private static readonly OpAmpModel NearlyIdeal = new() { InputOhms = 1e15, OutputOhms = 1e-3 };

    private static double Output(OpAmpModel model, double rf, double rc, params (double Volts, double Ohms)[] inputs) => new Circuit(
        [
            new VoltageSource("plus", "VP", "GND", 12.0), new VoltageSource("minus", "VN", "GND", -12.0),
            .. inputs.Select((input, k) => new VoltageSource($"V{k}", $"in{k}", "GND", input.Volts)),
            .. inputs.Select((input, k) => new Resistor($"R{k}", $"in{k}", "sum", input.Ohms)),
            new Resistor("RF", "sum", "out", rf), new Resistor("RC", "ref", "GND", rc),
            new OpAmp("U1", "ref", "sum", "out", "VP", "VN", model),
        ]).Compile().SolveOperatingPoint().Nodes["out"];

    private static double Formula(OpAmpModel model, double rf, double rc, params (double Volts, double Ohms)[] inputs)
    {
        double noiseGain = 1 + rf * inputs.Sum(i => 1 / i.Ohms);
        double plusAmps = model.BiasAmps + 0.5 * model.OffsetAmps, minusAmps = model.BiasAmps - 0.5 * model.OffsetAmps;
        double ideal = -rf * inputs.Sum(i => i.Volts / i.Ohms) + rf * minusAmps + noiseGain * (model.OffsetVolts - rc * plusAmps);
        return ideal / (1 + noiseGain / model.OpenLoopGain);
    }

    // Data sheets of the LF353 class: beyond the negative common-mode limit an input reverses the phase, both send the output high.
    [Theory]
    [InlineData(0, -1, 10.5)]
    [InlineData(0, -11.5, -10.5)]
    [InlineData(-11.5, 0, 10.5)]
    [InlineData(-11.5, -11, 10.5)]
    [InlineData(-11, -11.5, 10.5)]
    public void An_input_near_the_negative_supply_turns_the_phase_round(double plus, double minus, double expected)
    {
        var output = new Circuit(
        [
            new VoltageSource("plus", "VP", "GND", 12.0), new VoltageSource("minus", "VN", "GND", -12.0),
            new VoltageSource("V1", "p", "GND", plus), new VoltageSource("V2", "m", "GND", minus),
            new OpAmp("U1", "p", "m", "out", "VP", "VN", NearlyIdeal with { ReversesBelowVolts = 1.5 }),
                new Resistor("RL", "out", "GND", 1e5),
        ]).Compile().SolveOperatingPoint().Nodes["out"];
        Assert.Equal(expected, output, 0.02);
    }

    [Theory]
    [InlineData(1e6)]
    [InlineData(2e5)]
    [InlineData(2e4)]
    public void An_inverting_stage_of_finite_gain_falls_short_by_the_noise_gain_over_the_open_loop_gain(double gain)
    {
        var model = NearlyIdeal with { OpenLoopGain = gain };
        double expected = Formula(model, 47e3, 8.2e3, (0.15, 10e3));
        Agreement.OfScale("inverting stage", expected, Output(model, 47e3, 8.2e3, (0.15, 10e3)), expected, 1e-9);
    }

    [Theory]
    [InlineData(3e-3, 0, 0)]
    [InlineData(0, 200e-9, 0)]
    [InlineData(0, 200e-9, 50e-9)]
    [InlineData(-1e-3, 80e-9, -20e-9)]
    public void A_summing_stage_shows_offset_times_noise_gain_and_bias_current_times_feedback(double offset, double bias, double offsetAmps)
    {
        var model = NearlyIdeal with { OffsetVolts = offset, BiasAmps = bias, OffsetAmps = offsetAmps };
        double expected = Formula(model, 33e3, 4.7e3, (1.1, 12e3), (-0.4, 18e3), (0.25, 56e3));
        Agreement.OfScale("summing stage", expected, Output(model, 33e3, 4.7e3, (1.1, 12e3), (-0.4, 18e3), (0.25, 56e3)), expected, 1e-9);
    }

    [Fact]
    public void A_compensation_resistor_equal_to_R1_parallel_Rf_cancels_the_bias_current_offset()
    {
        // Common practice; it follows from the form above with I+ = I−.
        var model = NearlyIdeal with { BiasAmps = 500e-9 };
        double parallel = 1 / (1 / 10e3 + 1 / 47e3);
        Agreement.OfScale("output with the inputs at 0 V", 0, Output(model, 47e3, parallel, (0, 10e3)), 500e-9 * 47e3, 1e-9);
    }

    [Theory]
    [InlineData(-2.0, 12 - 1.5)]
    [InlineData(2.0, -12 + 1.2)]
    public void An_overdriven_output_stops_at_its_swing_from_the_rail_that_is_present(double volts, double stop)
    {
        var model = NearlyIdeal with { DropHighVolts = 1.5, DropLowVolts = 1.2 };
        double output = Output(model, 100e3, 9.1e3, (volts, 10e3));
        // Data sheets state the swing to a tenth of a volt; a tenth of that is allowed for the rounding that Newton's method needs.
        Agreement.OfScale("overdriven output", stop, output, 1, 0.01);
    }
}
