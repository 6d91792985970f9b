using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Tests.Reference;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>Supplies that deliver and never take, as most regulators: at their voltage under load, lifted by what is pushed into
/// them.</summary>
public sealed class DeliveringSourceTests
{
    // What the source takes when it is lifted: the divider of a regulator's feedback.
    private const double TakenAmps = 0.5e-6, DividerSiemens = 1 / 10e6;

    private static VoltageSource Supply(double volts, double ohms = 0) =>
        new("VDD", "VDD", "GND", volts) { SourceOnly = true, DeliversFromMinus = volts < 0, SeriesOhms = ohms };

    [Theory]
    [InlineData(5.0, 1e9)]
    [InlineData(5.0, 5e6)]
    [InlineData(3.3, 33e3)]
    [InlineData(5.0, 50)]
    [InlineData(5.0, 0.05)]
    [InlineData(-9.0, 900)]
    [InlineData(-9.0, 9e9)]
    public void Under_any_load_it_stands_at_its_voltage_and_without_one_too(double volts, double loadOhms)
    {
        var point = new Circuit([Supply(volts), new Resistor("RL", "VDD", "GND", loadOhms)]).Compile().SolveOperatingPoint();
        Agreement.AtEachPoint("supply", [volts], [point.Nodes["VDD"]], 1e-15, 1e-14);
        Agreement.AtEachPoint("its current", [-volts / loadOhms], [point.Parts["VDD"].Amps], 1e-12, 1e-15);
    }

    [Fact]
    public void Behind_a_resistance_it_sags_by_Ohms_law()
    {
        var point = new Circuit([Supply(5, 0.2), new Resistor("RL", "VDD", "GND", 50)]).Compile().SolveOperatingPoint();
        Agreement.OfScale("supply", 5 * 50 / 50.2, point.Nodes["VDD"], 5, 1e-14);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void What_is_pushed_into_it_beyond_its_load_lifts_it_to_what_the_load_makes_of_the_rest(int sign)
    {
        var point = new Circuit(
            [
                Supply(sign * 3.3), new Resistor("RL", "VDD", "GND", 3.3e3), new VoltageSource("S", "IN", "GND", sign * 24),
                new Resistor("R1", "IN", "VDD", 1e3),
            ]).Compile().SolveOperatingPoint();
        // (24 V − v)/1 kΩ = v/3.3 kΩ and what the source takes.
        double lifted = (24 / 1e3 - TakenAmps + 3.3 * DividerSiemens) / (1 / 1e3 + 1 / 3.3e3 + DividerSiemens);
        double taken = TakenAmps + (lifted - 3.3) * DividerSiemens;
        Agreement.OfScale("supply", sign * lifted, point.Nodes["VDD"], lifted, 1e-12);
        Agreement.OfScale("what it takes", sign * taken, point.Parts["VDD"].Amps, taken, 1e-9);
    }

    [Fact]
    public void Pushed_in_time_it_rises_with_its_capacitor_and_holds_its_voltage_again_once_the_load_has_drained_it()
    {
        const double volts0 = 3.3, load = 3.3e3, pushed = 3e-3, farads = 1e-6, all = 1 / (1 / load + DividerSiemens), tau = all * farads,
            taken = TakenAmps - volts0 * DividerSiemens;
        var run = new Circuit(
            [
                Supply(3.3), new Resistor("RL", "VDD", "GND", load), new Capacitor("C", "VDD", "GND", farads),
                new CurrentSource("I", "GND", "VDD", new Pulse(0, pushed, 1e-3, 0, 2e-3, 0)),
            ]).Compile().RunTransient(20e-3);
        double end = (pushed - taken) * all, top = end + (volts0 - end) * Math.Exp(-2e-3 / tau), under = -taken * all;
        double back = tau * Math.Log((top - under) / (3.3 - under));
        var volts = run.Voltage("VDD");
        Agreement.OfScale("before", 3.3, volts.At(0.9e-3), 3.3, 1e-12);
        Agreement.OfScale("top", top, volts.Maximum().Value, top, 1e-4);
        Agreement.OfScale("draining", 3.3 + 0.5 * (top - 3.3),
            volts.At(3e-3 + tau * Math.Log((top - under) / (3.3 + 0.5 * (top - 3.3) - under))), top, 1e-3);
        Agreement.OfScale("again", 3.3, volts.At(3e-3 + 1.2 * back), 3.3, 1e-6);
        Assert.InRange(run.Audit.EnergyImbalance, 0, 1e-3);
    }

    [Fact]
    public void Trials_in_which_it_delivers_are_those_of_an_ideal_source_and_the_others_are_lifted_by_hand_calculation()
    {
        static double[] Run(bool only) => [.. new Circuit(
            [
                Supply(5) with { SourceOnly = only }, new Resistor("RL", "VDD", "GND", 1e3), new VoltageSource("S", "IN", "GND", 0),
                new Resistor("R1", "IN", "VDD", 1e3),
            ]).Compile().SweepTrials("S", [0, 4, 12], [new("RL", Resistor.Resistance)], 16, (t, numbers) =>
                numbers[0] = 500 * (t + 1), ["VDD"])
            is var result ? Enumerable.Range(0, 16).SelectMany(t => result.Voltage(t, "VDD").ToArray()) : []];
        double[] found = Run(true), ideal = Run(false);
        for (int t = 0; t < 16; t++)
        {
            double load = 500 * (t + 1);
            for (int k = 0; k < 3; k++)
            {
                double lifted = (new[] { 0.0, 4, 12 }[k] / 1e3 - TakenAmps + 5 * DividerSiemens) / (1 / 1e3 + 1 / load + DividerSiemens),
                    at = found[3 * t + k];
                Agreement.OfScale($"trial {t}, point {k}", lifted > 5 ? lifted : ideal[3 * t + k], at, 5, 1e-6);
            }
        }
    }

    // A supply that nothing loads: the first guess is the nominal voltage, and a trial below it has to come down from there.
    [Fact]
    public void Trials_of_a_supply_without_load_stand_at_their_own_voltages()
    {
        var result = new Circuit([Supply(5), new VoltageSource("S", "IN", "GND", 0), new Resistor("R1", "IN", "GND", 1e3)]).Compile()
            .SweepTrials("S", [0], [new("VDD", VoltageSource.Scale)], 16, (t, numbers) => numbers[0] = 0.9 + 0.02 * t, ["VDD"]);
        for (int t = 0; t < 16; t++)
            Agreement.OfScale($"trial {t}", 5 * (0.9 + 0.02 * t), result.Voltage(t, "VDD").ToArray()[0], 5, 1e-14);
    }
}
