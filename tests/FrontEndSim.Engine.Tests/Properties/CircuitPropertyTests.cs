using CsCheck;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Tests.Properties;

/// <summary>Theorems of circuit theory that hold for every network, checked on networks drawn at random.</summary>
public class CircuitPropertyTests
{
    private const int Nodes = 6;

    private static readonly Gen<double> Ohms = Gen.Double[0, 6].Select(decade => Math.Pow(10, decade));
    private static readonly Gen<double> Volts = Gen.Double[-10, 10];

    // A chain from ground through every node keeps the network connected; the other resistors go anywhere.
    private static readonly Gen<Element[]> ResistorNet = Gen.Select(Ohms.Array[Nodes],
        Gen.Select(Gen.Int[0, Nodes], Gen.Int[0, Nodes], Ohms).Array[1, 12])
        .Select((chain, extra) => new List<Element>(
        [
            .. chain.Select((r, k) => new Resistor($"C{k}", Node(k), Node(k + 1), r)),
            .. extra.Select((e, k) => (e, k)).Where(x => x.e.Item1 != x.e.Item2)
                .Select(x => new Resistor($"X{x.k}", Node(x.e.Item1), Node(x.e.Item2), x.e.Item3)),
        ]).ToArray());

    private static string Node(int k) => k == 0 ? Circuit.Ground : $"N{k}";

    private static OperatingPoint Solve(IEnumerable<Element> parts) => new Circuit(parts).Compile().SolveOperatingPoint();

    // Nodal sums of conductances from 1 µS to 1 S keep ten digits of the smallest at best.
    private static void Same(double expected, double actual, double scale) =>
        Assert.True(Math.Abs(expected - actual) <= 1e-8 * scale + 1e-12, $"{expected:r} and {actual:r} differ");

    [Fact]
    public void Two_sources_together_give_the_sum_of_what_each_gives_alone() =>
        Gen.Select(ResistorNet, Gen.Int[1, Nodes], Gen.Int[1, Nodes], Volts, Volts).Sample((net, a, b, va, vb) =>
        {
            OperatingPoint With(double first, double second) => Solve([.. net,
                new VoltageSource("A", "SA", "GND", first), new Resistor("RA", "SA", Node(a), 100),
                new VoltageSource("B", "SB", "GND", second), new Resistor("RB", "SB", Node(b), 330)]);
            OperatingPoint both = With(va, vb), onlyA = With(va, 0), onlyB = With(0, vb);
            foreach (string node in both.Nodes.Keys)
                Same(onlyA.Nodes[node] + onlyB.Nodes[node], both.Nodes[node], 10);
        }, iter: 200);

    [Fact]
    public void A_network_of_resistors_transfers_alike_in_both_directions() => // the reciprocity theorem
        Gen.Select(ResistorNet, Gen.Int[1, Nodes], Gen.Int[1, Nodes]).Sample((net, a, b) =>
        {
            double forth = Solve([.. net, new CurrentSource("I", "GND", Node(a), 1e-3)]).Nodes[Node(b)];
            double back = Solve([.. net, new CurrentSource("I", "GND", Node(b), 1e-3)]).Nodes[Node(a)];
            Same(forth, back, Math.Abs(forth));
        }, iter: 200);

    [Fact]
    public void Scaling_every_impedance_scales_every_current_by_the_inverse() =>
        Gen.Select(ResistorNet, Volts, Gen.Double[0.01, 100]).Sample((net, v, factor) =>
        {
            Element[] parts = [.. net, new VoltageSource("S", "IN", "GND", v), new Resistor("RS", "IN", Node(1), 50)];
            OperatingPoint plain = Solve(parts), scaled = Solve(parts.Select(p => p is Resistor r ? r with { Ohms = r.Ohms * factor } : p));
            double largest = plain.Parts.Values.Max(p => Math.Abs(p.Amps));
            foreach (var (name, reading) in plain.Parts)
                Same(reading.Amps, scaled.Parts[name].Amps * factor, largest);
        }, iter: 200);

    [Fact]
    public void No_node_of_a_passive_network_leaves_the_range_of_its_sources_and_no_part_gives_power() =>
        Gen.Select(ResistorNet, Volts, Gen.Int[1, Nodes], Gen.Int[1, Nodes]).Sample((net, v, a, b) =>
        {
            var point = Solve([.. net, new VoltageSource("S", "IN", "GND", v), new Resistor("RS", "IN", Node(a), 50),
                new Diode("D", Node(b), "GND", Junctions.Silicon with { SeriesOhms = 1 })]);
            foreach (double node in point.Nodes.Values)
                Assert.InRange(node, Math.Min(v, 0) - 1e-9, Math.Max(v, 0) + 1e-9);
            foreach (var (name, reading) in point.Parts.Where(p => p.Key != "S"))
                Assert.True(reading.Watts >= -1e-18, $"{name} gives {-reading.Watts} W");
            Same(0, point.Parts.Values.Sum(p => p.Watts), point.Parts.Values.Max(p => Math.Abs(p.Watts)));
        }, iter: 200);

    [Fact]
    public void The_order_in_which_parts_are_listed_changes_no_result() =>
        Gen.Select(ResistorNet, Volts).SelectMany((net, v) => Gen.Shuffle((Element[])
        [
            .. net, new VoltageSource("VP", "VP", "GND", 9), new VoltageSource("VN", "VN", "GND", -9),
            new VoltageSource("S", "IN", "GND", v), new Resistor("R1", "IN", "SUM", 10e3), new Resistor("RF", "SUM", "OUT", 22e3),
            new OpAmp("U", Node(2), "SUM", "OUT", "VP", "VN", new OpAmpModel { BiasAmps = 1e-7 }),
                new Resistor("RL", "OUT", Node(1), 4.7e3),
            new Diode("D", Node(3), "GND", Junctions.Zener(3.3) with { SeriesOhms = 2 }),
        ]).Select(shuffled => (net, v, shuffled))).Sample(drawn =>
        {
            var first = Solve(drawn.shuffled.OrderBy(p => p.Name, StringComparer.Ordinal));
            var second = Solve(drawn.shuffled);
            foreach (var (node, value) in first.Nodes)
                Same(value, second.Nodes[node], 10);
        }, iter: 200);
}
