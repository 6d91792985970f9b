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

    [Fact]
    public void A_number_of_another_kind_of_part_is_refused_by_name()
    {
        var e = Assert.Throws<ArgumentException>(() =>
            Circuit().Compile().SweepTrials("S", Volts, [new("R1", Diode.BreakdownVoltage)], 8, (_, _) => { }, ["PIN"]));
        Assert.Contains("R1 has no breakdown voltage", e.Message, StringComparison.Ordinal);
    }
}
