using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Tests;
using FrontEndSim.Language.Binding;
using FrontEndSim.Reporting.Schematic;

namespace FrontEndSim.Reporting.Tests;

public class SchematicTests
{
    private static readonly Rail[] Rails = [new("VP", 9), new("VN", -9), new("VDD", 3.3)];

    private static ResistorPart R(string name, string from, string to) => new(name, from, to, 1000);

    private static OpAmpPart A(string name, string plus, string minus, string output) =>
        new(name, plus, minus, output, "VP", "VN", PartCatalogue.Standard.FindOpAmp("bipolar-general")!);

    public static TheoryData<string, Part[]> Circuits => new()
    {
        { "a divider", [R("R1", "IN", "OUT"), R("R2", "OUT", "GND")] },
        { "a divider to a negative rail", [R("R1", "IN", "OUT"), R("R2", "OUT", "VN")] },
        { "a follower", [A("A1", "IN", "OUT", "OUT")] },
        { "a non-inverting amplifier", [A("A1", "IN", "M", "OUT"), R("Rg", "M", "GND"), R("Rf", "M", "OUT")] },
        { "a difference amplifier", [A("A1", "P", "M", "OUT"), R("R1", "VDD", "M"), R("R2", "M", "OUT"), R("R3", "IN", "P"),
            R("R4", "P", "GND")] },
        { "an inverting amplifier with a capacitor across its feedback",
            [R("R1", "IN", "M"), R("R2", "M", "OUT"), new CapacitorPart("C", "OUT", "M", 1e-9), A("A1", "GND", "M", "OUT")] },
        { "an amplifier with positive feedback", [A("A1", "P", "IN", "OUT"), R("R1", "VDD", "P"), R("R2", "P", "GND"),
            R("R3", "OUT", "P")] },
        { "two resistors side by side in the signal's way", [R("R1", "IN", "OUT"), R("R2", "OUT", "IN"), R("R3", "OUT", "GND")] },
        { "a two-section filter", [R("R1", "IN", "X"), new CapacitorPart("C1", "X", "GND", 1e-9), R("R2", "X", "OUT"),
            new CapacitorPart("C2", "OUT", "GND", 1e-9)] },
        { "a supply's capacitor beside a divider", [R("R1", "IN", "OUT"), new CapacitorPart("C1", "VP", "GND", 1e-9),
            R("R2", "OUT", "GND")] },
        { "a potentiometer as a divider", [new PotentiometerPart("RV", "IN", "GND", "OUT", 1e4, 0.5)] },
        { "a potentiometer upside down", [new PotentiometerPart("RV", "GND", "IN", "OUT", 1e4, 0.5),
            new CapacitorPart("C1", "OUT", "GND", 1e-9)] },
        { "a potentiometer with its wiper at an end", [new PotentiometerPart("RV", "IN", "OUT", "OUT", 1e4, 0.5), R("R1", "OUT", "GND")] },
        { "a trimmer between rails", [R("R1", "IN", "OUT"), new PotentiometerPart("RV", "GND", "VDD", "OUT", 1e4, 0.5)] },
        { "a potentiometer whose far end goes elsewhere", [new PotentiometerPart("RV", "IN", "X", "OUT", 1e4, 0.5), R("R1", "X", "GND")] },
        { "a transmitter and its burden", [new TransmitterPart("T", "IN", "LOOP", "VP"), R("Rb", "LOOP", "GND"), R("R", "LOOP", "OUT")] },
        { "an indicator and its resistor at an output", [A("A1", "IN", "OUT", "OUT"), R("Rl", "OUT", "X"),
            new DiodePart("D", "X", "GND", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!), R("R2", "OUT", "GND")] },
        { "an indicator from a rail to an output", [A("A1", "IN", "OUT", "OUT"), R("Rl", "VDD", "X"),
            new DiodePart("D", "X", "OUT", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!)] },
        { "transistors as a switch, a follower and a high-side switch", [R("R1", "IN", "B"),
            new BipolarPart("Q1", "C", "B", "GND", PartCatalogue.Standard.Find<BipolarType>("2N3904")!), R("R2", "VDD", "C"),
                R("R3", "C", "G"), R("R4", "G", "VP"),
            new BipolarPart("Q2", "OUT", "G", "VP", PartCatalogue.Standard.Find<BipolarType>("2N3906")!), R("R5", "OUT", "GND"),
            new MosPart("Q3", "VDD", "OUT", "FOLLOWED", PartCatalogue.Standard.Find<MosType>("2N7002")!), R("R6", "FOLLOWED", "GND")] },
        { "a bridge", [R("R1", "IN", "A"), R("R2", "IN", "B"), R("R3", "A", "B"), R("R4", "A", "OUT"), R("R5", "B", "OUT")] },
    };

    public static TheoryData<string> Shipped => [.. Directory.GetFiles(Path.Combine(Root, "circuits"), "*.fes")
        .Select(f => Path.GetFileName(f))
        .Where(f => f != "greenhouse-probe-surroundings.fes").Order(StringComparer.Ordinal)];

    private static string Root
    {
        get
        {
            string folder = AppContext.BaseDirectory;
            while (!File.Exists(Path.Combine(folder, "FrontEndSim.sln")))
                folder = Path.GetDirectoryName(folder)!;
            return folder;
        }
    }

    [Theory]
    [MemberData(nameof(Circuits))]
    public void A_schematic_connects_its_parts_as_the_circuit_does(string what, Part[] parts)
    {
        var all = PartsOf(parts);
        var drawing = Drawn(all);
        Assert.Empty(drawing.Faults());
        Assert.True(drawing.Shows(all), what);
        Assert.Equal(all.Count, drawing.Parts.Length);
        Assert.Empty(drawing.Flags.Where(f => f.Look == FlagLook.Name));
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public void A_shipped_circuit_is_one_drawing_without_loose_ends_or_words_on_lines(string file)
    {
        var frontEnd = FrontEndOf(file);
        var parts = SchematicSvg.PartsOf(frontEnd);
        var drawing = Layout.Along(parts, SchematicSvg.Rails(frontEnd));
        Assert.Empty(drawing.Faults());
        Assert.Empty(drawing.Flags.Where(f => f.Look == FlagLook.Name));
        // Every node has its words.
        var nodes = parts.SelectMany(p => p.Nodes).Where(n => n != "GND" && !n.Contains(' ') && frontEnd.Rails.All(r => r.Name != n))
            .Distinct().Order();
        Assert.Equal(nodes, drawing.Words.Where(w => w.Kind == WordsKind.Voltage).Select(w => w.Text).Order());
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public void The_signal_runs_from_left_to_right_through_the_stages(string file)
    {
        var frontEnd = FrontEndOf(file);
        var drawing = Layout.Along(SchematicSvg.PartsOf(frontEnd), SchematicSvg.Rails(frontEnd));
        double Middle(IEnumerable<string> names) => drawing.Parts.Where(p => names.Contains(p.Part.Name)).Average(p => p.Centre.X);
        double[] stages = [.. frontEnd.Stages.Select(s => Middle(s.Parts.Select(p => p.Name)))];
        Assert.Equal(stages.Order(), stages);
        // One that stands between two nodes lies beside what is across it.
        Assert.All(frontEnd.Sensors.Where(s => s.Other == "GND"),
            s => Assert.True(drawing.Parts.Single(p => p.Part is SensorMark m && m.Sensor == s).Centre.X < drawing.Parts
            .Where(p => p.Part is not (SensorMark or SourceResistanceMark) && p.Part.Nodes.Contains(s.Node)).Min(p => p.Centre.X)));
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public void The_same_circuit_gives_the_same_bytes_with_every_part_node_and_voltage_to_be_found(string file)
    {
        var frontEnd = FrontEndOf(file);
        var volts = frontEnd.AllParts.SelectMany(p => p.Nodes).Concat(frontEnd.Rails.Select(r => r.Name)).Distinct()
            .ToDictionary(n => n, _ => 1.25);
        var svg = SchematicSvg.Draw(frontEnd, volts)!;
        Assert.Equal(svg.ToString(), SchematicSvg.Draw(FrontEndOf(file), volts)!.ToString());
        HashSet<string> Values(string name) => [.. svg.Descendants().Select(e => (string?)e.Attribute(name)).OfType<string>()];
        Assert.Equal(frontEnd.AllParts.Select(p => p.Name).Order(), Values("data-part").Order());
        Assert.Equal(frontEnd.Sensors.Select(s => s.Name).Order(), Values("data-sensor").Order());
        Assert.Equal(frontEnd.Pins.Select(p => p.Name).Order(), Values("data-pin").Order());
        Assert.Empty(frontEnd.AllParts.SelectMany(p => p.Nodes).Except(Values("data-node")));
        Assert.All(svg.Descendants().Where(e => (string?)e.Attribute("data-volts") is { } n && n != "GND"),
            e => Assert.Equal("1.25 V", e.Value));
        int[] view = [.. svg.Attribute("viewBox")!.Value.Split(' ').Select(int.Parse)];
        var extent = Layout.Along(SchematicSvg.PartsOf(frontEnd), SchematicSvg.Rails(frontEnd)).Extent();
        Assert.True(extent.Left > view[0] && extent.Top > view[1] && extent.Right < view[0] + view[2] && extent.Bottom < view[1] + view[3]);
    }

    [Fact]
    public void Supply_leads_reach_their_op_amp()
    {
        var amp = new PlacedPart(A("A1", "P", "M", "OUT"), new(0, 0), 0);
        // The edges of the triangle from (-40, ±50) to (40, 0) pass through (0, ±25); the leads end there.
        Assert.Contains(amp.Symbol.Strokes, s => s.Attribute("d")!.Value.Contains("M0 -50V-25", StringComparison.Ordinal));
        Assert.Contains(amp.Symbol.Strokes, s => s.Attribute("d")!.Value.Contains("M0 25V50", StringComparison.Ordinal));
        Assert.Equal([new Spot(0, -50), new Spot(0, 50)], amp.Terminals[3..]);
    }

    [Fact]
    public void A_drawing_with_a_wire_too_few_or_too_many_is_not_taken_for_the_circuit()
    {
        var parts = PartsOf([R("R1", "IN", "OUT"), R("R2", "OUT", "GND")]);
        var drawing = Drawn(parts);
        var first = drawing.Parts.Single(p => p.Part.Name == "R1");

        var cut = drawing with { Wires = drawing.Wires.RemoveAll(w => w.Holds(first.Terminals[1])) };
        var shorted = drawing with { Wires = drawing.Wires.Add(new Wire(first.Terminals[0], first.Terminals[1])) };
        var loose = drawing with { Wires = drawing.Wires.Add(new Wire(first.Terminals[1], first.Terminals[1].Plus(0, 10))) };
        var swapped = drawing with { Parts = drawing.Parts.Replace(first, first with { Part = parts[0] }) };

        Assert.True(drawing.Shows(parts));
        Assert.False(cut.Shows(parts));
        Assert.False(shorted.Shows(parts));
        Assert.Contains(loose.Faults(), f => f.StartsWith("a wire ends loose", StringComparison.Ordinal));
        Assert.False(swapped.Shows(parts));
        Assert.False(drawing.Shows([.. parts, R("R3", "OUT", "GND")]));
    }

    [Fact]
    public void Words_on_words_or_on_a_wire_are_seen()
    {
        var drawing = Drawn(PartsOf([R("R1", "IN", "OUT"), R("R2", "OUT", "GND")]));
        var words = drawing.Words[0];
        var wire = drawing.Wires[0];
        Assert.Contains((drawing with { Words = drawing.Words.Add(words with { Owner = "twice" }) })
            .Faults(), f => f.EndsWith("of twice", StringComparison.Ordinal));
        Assert.Contains((drawing with { Words = [words with { At = wire.From }] })
            .Faults(), f => f.Contains("runs through the words", StringComparison.Ordinal));
    }

    [Fact]
    public void A_diode_drawn_the_wrong_way_round_is_not_taken_for_the_circuit()
    {
        var diode = new DiodePart("D", "GND", "OUT", PartCatalogue.Standard.FindDiode("1N5817", DiodeKind.Schottky)!);
        var parts = PartsOf([R("R1", "IN", "OUT"), diode]);
        var drawing = Drawn(parts);
        var placed = drawing.Parts.Single(p => p.Part == diode);
        var turned = drawing with { Parts = drawing.Parts.Replace(placed, placed with { Turn = (placed.Turn + 180) % 360 }) };

        Assert.True(drawing.Shows(parts));
        Assert.False(turned.Shows(parts));
    }

    [Fact]
    public void Divider_buffer_and_rail_clamp_guard_are_drawn()
    {
        Quantity Ohm(double value) => new(value, Unit.Ohm);
        foreach (var kind in new[] { "divider", "buffer", "rail-clamp-guard" })
        {
            var settings = new Dictionary<string, object>
            {
                ["from.input"] = "IN",
                ["from.output"] = "OUT",
                ["input.value"] = Ohm(90e3),
                ["ground.value"] = Ohm(10e3),
                ["opamp.type"] = "bipolar-general",
                ["opamp.positive"] = "VP",
                ["opamp.negative"] = "VN",
                ["series.value"] = Ohm(1e3),
                ["pulldown.value"] = Ohm(1e6),
                ["shunt.value"] = new Quantity(1e-8, Unit.Farad),
                ["diodes.type"] = "1N5817",
                ["diodes.rail"] = "VDD",
            };
            var stage = Asked.Of(kind, "s", settings, Rails, []).Build();
            Assert.Empty(Drawn(PartsOf([.. stage.Parts])).Faults());
        }
    }

    [Fact]
    public void The_sample_is_drawn_whole()
    {
        var frontEnd = SampleFrontEnd.Build();
        Assert.Empty(Layout.Along(SchematicSvg.PartsOf(frontEnd), SchematicSvg.Rails(frontEnd)).Faults());
    }

    /// <summary>The parts between a sensor at IN and a pin at OUT.</summary>
    private static IReadOnlyList<Part> PartsOf(Part[] parts) => SchematicSvg.PartsOf(new()
    {
        Rails = [.. Rails],
        Sensors = [new("probe", "IN", new(0, 1), 100)],
        Parts = [.. parts],
        Pins = [new("adc", "OUT")],
    });

    private static Drawing Drawn(IReadOnlyList<Part> parts) => Layout.Along(parts, Rails.ToDictionary(r => r.Name, r => r.Volts.Value));

    private static FrontEnd FrontEndOf(string file) => CircuitFile.Load(Path.Combine(Root, "circuits", file)).FrontEnd!;
}
