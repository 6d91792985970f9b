using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Tests.Properties;

/// <summary>Trials depend on their own numbers only.</summary>
public class TrialTests
{
    private const int Trials = 203;

    private static readonly double[] Volts = [.. Enumerable.Range(0, 21).Select(k => -5 + 0.5 * k)];

    /// <summary>
    /// A stage that clips, a zener that conducts and a gate that changes over: groups that settle and groups that do not.
    /// </summary>
    private static Circuit Circuit() => new(
    [
        new VoltageSource("VP", "VP", "GND", 9), new VoltageSource("VN", "VN", "GND", -9), new VoltageSource("VDD", "VDD", "GND", 5),
        new VoltageSource("S", "IN", "GND", 0) { SeriesOhms = 100 }, new Resistor("R1", "IN", "A", 1e4), new Resistor("RF", "A", "O", 5e4),
        new OpAmp("U", "GND", "A", "O", "VP", "VN", new OpAmpModel()), new Resistor("RG", "O", "PIN", 1e3),
        new Diode("Z", "GND", "PIN", Junctions.Zener(5.1) with { SeriesOhms = 2 }), new Resistor("RL", "PIN", "GND", 1e5),
        new LogicGate("G", "PIN", "Q", "VDD", "GND", new LogicGateModel { RisingShare = 0.6, FallingShare = 0.4 }),
            new Resistor("RQ", "Q", "GND", 1e4),
    ]);

    private static double[] Run(CompiledCircuit compiled, int cores)
    {
        VariedNumber[] varied =
        [
            new("R1", Resistor.Resistance), new("RF", Resistor.Resistance), new("Z", Diode.BreakdownVoltage), new("U", OpAmp.OffsetVoltage),
            new("S", VoltageSource.SourceResistance), new("VDD", VoltageSource.Scale),
        ];
        var result = compiled.SweepTrials("S", Volts, varied, Trials, (trial, numbers) =>
        {
            var random = new Random(trial);
            numbers[0] *= 1 + 0.5 * random.NextDouble();
            numbers[1] *= 0.2 + 20 * random.NextDouble();
            numbers[2] *= 0.5 + random.NextDouble();
            numbers[3] = 0.2 * (random.NextDouble() - 0.5);
            numbers[4] *= 1 + 100 * random.NextDouble();
            numbers[5] = 0.5 + random.NextDouble();
        }, ["PIN", "Q", "O"], cores);
        return [.. Enumerable.Range(0, Trials).SelectMany(t => new[] { "PIN", "Q", "O" }.SelectMany(n => result.Voltage(t, n).ToArray()))];
    }

    [Fact]
    public void Trials_are_the_same_to_the_last_bit_on_one_two_and_four_cores_and_whatever_was_solved_before()
    {
        double[] alone = Run(Circuit().Compile(), 1);
        Assert.All(alone, v => Assert.True(double.IsFinite(v)));
        foreach (int cores in new[] { 1, 2, 4, 8 })
        {
            var compiled = Circuit().Compile();
            compiled.Sweep("S", [5, -5, 3]);
            compiled.RunTransient(1e-5);
            for (int round = 0; round < 2; round++)
                Assert.Equal(alone, Run(compiled, cores));
        }
    }

    private static void AssertSame(SweepResult alone, TrialResult result, int trial)
    {
        foreach (string node in new[] { "O", "PIN" })
        {
            double[] expected = alone.Voltage(node);
            var found = result.Voltage(trial, node);
            for (int k = 0; k < expected.Length; k++)
            {
                Assert.True(Math.Abs(found[k] - expected[k]) < 1e-8,
                    $"trial {trial}, {node} at {alone.Values[k]} V: {found[k]}, {expected[k]}");
            }
        }
    }

    private static readonly VariedNumber[] Divider = [new("R1", Resistor.Resistance), new("R2", Resistor.Resistance)];

    // An inverting trigger with positive feedback (Schmitt 1938), and a clamp behind it.
    private static Circuit Trigger(double r1, double r2) => new(
    [
        new VoltageSource("VP", "VP", "GND", 9), new VoltageSource("VN", "VN", "GND", -9), new VoltageSource("VDD", "VDD", "GND", 3.3),
        new VoltageSource("S", "IN", "GND", 0), new OpAmp("U", "P", "IN", "O", "VP", "VN", new OpAmpModel()),
        new Resistor("R1", "O", "P", r1), new Resistor("R2", "P", "GND", r2), new Resistor("RG", "O", "PIN", 1e4),
        new Diode("DH", "PIN", "VDD", Junctions.Silicon), new Diode("DL", "GND", "PIN", Junctions.Silicon),
    ]);

    /// <summary>
    /// Up to just below where the nominal trigger goes over, and back: those trials whose threshold is lower have gone over and stay there,
    /// though the nominal one never does. Each is held against a sweep of its own circuit.
    /// </summary>
    [Fact]
    public void A_trial_that_has_gone_over_stays_there_though_the_nominal_circuit_has_not()
    {
        var nominal = Trigger(1e4, 1e4).Compile();
        double[] search = [.. Enumerable.Range(0, 400).Select(k => -6 + 0.025 * k)];
        double[] output = nominal.Sweep("S", search).Voltage("O");
        double threshold = search[Array.FindIndex(output, o => o < 0) - 1];
        Assert.InRange(threshold, 3.6, 3.9);
        double[] values = [-6, -3, 0, 2, 3, threshold - 0.01, 3, 2, 0, -1];
        const int trials = 128;
        double[] Numbers(int trial) => [1e4 * (1 + 0.03 * Math.Sin(trial)), 1e4 * (1 + 0.03 * Math.Cos(1.7 * trial))];
        var result = nominal.SweepTrials("S", values, Divider, trials, (trial, numbers) => Numbers(trial).CopyTo(numbers),
            ["O", "PIN"]);
        int over = 0;
        for (int trial = 0; trial < trials; trial++)
        {
            var alone = Trigger(Numbers(trial)[0], Numbers(trial)[1]).Compile().Sweep("S", values);
            AssertSame(alone, result, trial);
            over += result.Voltage(trial, "O")[^1] < 0 ? 1 : 0;
        }
        Assert.InRange(over, trials / 8, trials - trials / 8);
    }

    /// <summary>Few trials start from the nominal solutions, many from their slopes as well: both are the circuit's own.</summary>
    [Fact]
    public void Trials_are_the_sweeps_of_their_own_circuits_few_or_many()
    {
        double[] values = [.. Enumerable.Range(0, 33).Select(k => -8 + 0.5 * k)];
        VariedNumber[] varied = [new("R1", Resistor.Resistance), new("RF", Resistor.Resistance), new("U", OpAmp.OffsetVoltage),
            new("VDD", VoltageSource.Scale), new("DH", Diode.SaturationCurrent)];
        Circuit Stage(double[] n) => new(
        [
            new VoltageSource("VP", "VP", "GND", 9), new VoltageSource("VN", "VN", "GND", -9),
            new VoltageSource("VDD", "VDD", "GND", n[3] * 3.3),
            new VoltageSource("S", "IN", "GND", 0), new Resistor("R1", "IN", "A", n[0]), new Resistor("RF", "A", "O", n[1]),
            new OpAmp("U", "GND", "A", "O", "VP", "VN", new OpAmpModel { OffsetVolts = n[2] }), new Resistor("RG", "O", "PIN", 1e4),
            new Diode("DH", "PIN", "VDD", Junctions.Silicon with { SaturationAmps = n[4] }),
            new Diode("DL", "GND", "PIN", Junctions.Silicon),
        ]);
        double[] drawn = [1e4, 2e4, 0, 1, Junctions.Silicon.SaturationAmps];
        double[] Numbers(int trial)
        {
            var random = new Random(trial);
            double Draw() => 2 * random.NextDouble() - 1;
            return [1e4 * (1 + 0.05 * Draw()), 2e4 * (1 + 0.05 * Draw()), 5e-3 * Draw(), 1 + 0.05 * Draw(), drawn[4] * Math.Exp(Draw())];
        }
        var compiled = Stage(drawn).Compile();
        foreach (int trials in new[] { 11, 48 })
        {
            var result = compiled.SweepTrials("S", values, varied, trials, (trial, numbers) => Numbers(trial).CopyTo(numbers),
                ["O", "PIN"]);
            for (int trial = 0; trial < trials; trial++)
            {
                var alone = Stage(Numbers(trial)).Compile().Sweep("S", values);
                AssertSame(alone, result, trial);
            }
        }
    }

    /// <summary>
    /// Two clamps whose leakage is drawn from a thirtieth of the nominal one to forty times, behind 50 kilohms: first order takes some
    /// trials tens of volts past the knee of the other clamp. Once such a trial was taken to be solved at minus 86 megavolts, where
    /// its exponential was so steep that no step was large beside where it was taken.
    /// </summary>
    [Fact]
    public void Leakages_that_vary_by_decades_leave_a_clamped_node_between_its_clamps()
    {
        const double leakage = 2e-5;
        double[] values = [0, 0.825, 1.65, 2.475, 3.3];
        VariedNumber[] varied = [new("DH", Diode.SaturationCurrent), new("DH", Diode.LeakageConductance),
            new("DL", Diode.SaturationCurrent), new("DL", Diode.LeakageConductance)];
        Circuit Pin(double[] n) => new(
        [
            new VoltageSource("VDD", "VDD", "GND", 3.3), new VoltageSource("S", "IN", "GND", 0), new Resistor("R", "IN", "PIN", 5e4),
            new Diode("DH", "PIN", "VDD", Junctions.Silicon with { SaturationAmps = n[0], LeakageSiemens = n[1], SeriesOhms = 5 }),
            new Diode("DL", "GND", "PIN", Junctions.Silicon with { SaturationAmps = n[2], LeakageSiemens = n[3], SeriesOhms = 5 }),
        ]);
        double[] Numbers(int trial)
        {
            var random = new Random(trial);
            double high = leakage * Math.Exp(3.7 * (2 * random.NextDouble() - 1)), low = leakage * Math.Exp(3.7 * (2 * random.NextDouble() - 1));
            return [high, 0.7 * high, low, 0.7 * low];
        }
        var result = Pin([leakage, 0.7 * leakage, leakage, 0.7 * leakage]).Compile().SweepTrials("S", values, varied, 400,
            (trial, numbers) => Numbers(trial).CopyTo(numbers), ["PIN"]);
        for (int trial = 0; trial < 400; trial++)
        {
            double[] alone = Pin(Numbers(trial)).Compile().Sweep("S", values).Voltage("PIN");
            for (int k = 0; k < values.Length; k++)
            {
                double found = result.Voltage(trial, "PIN")[k];
                Assert.True(Math.Abs(found - alone[k]) < 1e-8, $"trial {trial} at {values[k]} V: {found}, alone {alone[k]}");
            }
        }
    }

    [Fact]
    public void A_number_of_another_kind_of_part_is_refused_by_name()
    {
        var e = Assert.Throws<ArgumentException>(() =>
            Circuit().Compile().SweepTrials("S", Volts, [new("R1", Diode.BreakdownVoltage)], 8, (_, _) => { }, ["PIN"]));
        Assert.Contains("R1 has no breakdown voltage", e.Message, StringComparison.Ordinal);
    }
}
