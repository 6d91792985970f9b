using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Reporting.Schematic;

namespace FrontEndSim.Reporting.Tests;

public class SchematicTests
{
    private static readonly Dictionary<string, double> Rails = new() { ["VP"] = 9, ["VN"] = -9, ["VDD"] = 3.3 };

    private static ResistorPart R(string name, string from, string to) => new(name, from, to, 1000);

    private static OpAmpPart A(string name, string plus, string minus, string output) =>
        new(name, plus, minus, output, "VP", "VN", PartCatalogue.Standard.FindOpAmp("bipolar-general")!);

    public static TheoryData<string, Part[]> Circuits => new()
    {
        { "a divider", [R("R1", "IN", "OUT"), R("R2", "OUT", "GND")] },
        { "a divider to a negative rail", [R("R1", "IN", "OUT"), R("R2", "OUT", "VN")] },
        { "a follower", [A("A1", "IN", "OUT", "OUT")] },
        { "a non-inverting amplifier", [A("A1", "IN", "M", "OUT"), R("Rg", "M", "GND"), R("Rf", "M", "OUT")] },
        { "a difference amplifier", [A("A1", "P", "M", "OUT"), R("R1", "VDD", "M"), R("R2", "M", "OUT"), R("R3", "IN", "P"), R("R4", "P", "GND")] },
        { "an inverting amplifier with a capacitor across its feedback",
            [R("R1", "IN", "M"), R("R2", "M", "OUT"), new CapacitorPart("C", "OUT", "M", 1e-9), A("A1", "GND", "M", "OUT")] },
        { "an amplifier with positive feedback", [A("A1", "P", "IN", "OUT"), R("R1", "VDD", "P"), R("R2", "P", "GND"), R("R3", "OUT", "P")] },
        { "two resistors side by side in the signal's way", [R("R1", "IN", "OUT"), R("R2", "OUT", "IN"), R("R3", "OUT", "GND")] },
        { "a two-section filter", [R("R1", "IN", "X"), new CapacitorPart("C1", "X", "GND", 1e-9), R("R2", "X", "OUT"), new CapacitorPart("C2", "OUT", "GND", 1e-9)] },
        { "a supply's capacitor beside a divider", [R("R1", "IN", "OUT"), new CapacitorPart("C1", "VP", "GND", 1e-9), R("R2", "OUT", "GND")] },
        { "a potentiometer as a divider", [new PotentiometerPart("RV", "IN", "GND", "OUT", 1e4, 0.5)] },
        { "a potentiometer upside down", [new PotentiometerPart("RV", "GND", "IN", "OUT", 1e4, 0.5), new CapacitorPart("C1", "OUT", "GND", 1e-9)] },
        { "a potentiometer with its wiper at an end", [new PotentiometerPart("RV", "IN", "OUT", "OUT", 1e4, 0.5), R("R1", "OUT", "GND")] },
        { "a trimmer between rails", [R("R1", "IN", "OUT"), new PotentiometerPart("RV", "GND", "VDD", "OUT", 1e4, 0.5)] },
        { "a potentiometer whose far end goes elsewhere", [new PotentiometerPart("RV", "IN", "X", "OUT", 1e4, 0.5), R("R1", "X", "GND")] },
        { "a transmitter and its burden", [new TransmitterPart("T", "IN", "LOOP", "VP"), R("Rb", "LOOP", "GND"), R("R", "LOOP", "OUT")] },
        { "an indicator and its resistor at an output", [A("A1", "IN", "OUT", "OUT"), R("Rl", "OUT", "X"),
            new DiodePart("D", "X", "GND", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!), R("R2", "OUT", "GND")] },
        { "an indicator from a rail to an output", [A("A1", "IN", "OUT", "OUT"), R("Rl", "VDD", "X"),
            new DiodePart("D", "X", "OUT", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!)] },
        { "a bridge", [R("R1", "IN", "A"), R("R2", "IN", "B"), R("R3", "A", "B"), R("R4", "A", "OUT"), R("R5", "B", "OUT")] },
    };

    [Theory]
    [MemberData(nameof(Circuits))]
    public void A_schematic_connects_its_parts_as_the_circuit_does(string what, Part[] parts)
    {
        var drawing = Layout.Of(parts, "IN", "OUT", Rails);
        Assert.True(drawing is not null, what);
        Assert.True(drawing.Shows(parts), what);
        Assert.Equal(parts.Length, drawing.Parts.Length);
    }

    [Fact]
    public void A_drawing_with_a_wire_too_few_or_too_many_is_not_taken_for_the_circuit()
    {
        Part[] parts = [R("R1", "IN", "OUT"), R("R2", "OUT", "GND")];
        var drawing = Layout.Of(parts, "IN", "OUT", Rails)!;
        var first = drawing.Parts[0].Terminals;

        var cut = drawing with { Wires = drawing.Wires.RemoveAll(w => w.Holds(first[1])) };
        var shorted = drawing with { Wires = drawing.Wires.Add(new Wire(first[0], first[1])) };
        var swapped = drawing with { Parts = drawing.Parts.SetItem(1, drawing.Parts[1] with { Part = drawing.Parts[0].Part }) };

        Assert.False(cut.Shows(parts));
        Assert.False(shorted.Shows(parts));
        Assert.False(swapped.Shows(parts));
        Assert.False(drawing.Shows([.. parts, R("R3", "OUT", "GND")]));
    }

    [Fact]
    public void A_diode_drawn_the_wrong_way_round_is_not_taken_for_the_circuit()
    {
        var diode = new DiodePart("D", "GND", "OUT", PartCatalogue.Standard.FindDiode("1N5817", DiodeKind.Schottky)!);
        Part[] parts = [R("R1", "IN", "OUT"), diode];
        var drawing = Layout.Of(parts, "IN", "OUT", Rails)!;
        int at = drawing.Parts.ToList().FindIndex(p => p.Part == diode);
        var turned = drawing with { Parts = drawing.Parts.SetItem(at, drawing.Parts[at] with { Terminals = [.. drawing.Parts[at].Terminals.Reverse()] }) };

        Assert.True(drawing.Shows(parts));
        Assert.False(turned.Shows(parts));
    }

    [Fact]
    public void Divider_buffer_and_rail_clamp_guard_are_drawn()
    {
        Rail[] rails = [new("VP", 9), new("VN", -9), new("VDD", 3.3)];
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
            var stage = StageKinds.Find(kind)!.Build(new("s", settings, rails, []));
            var drawing = Layout.Of(stage.Parts, "IN", "OUT", Rails);
            Assert.True(drawing is not null, kind);
            // All of it lies inside the picture: a follower's feedback is a wire above all parts.
            var frontEnd = new FrontEnd { Rails = [.. rails], Stages = [stage] };
            var svg = SchematicSvg.Draw(kind, "s", "s.", stage.Parts, "IN", "OUT", frontEnd, new Dictionary<string, double>())!;
            int[] view = [.. svg.Attribute("viewBox")!.Value.Split(' ').Select(int.Parse)];
            foreach (var wire in drawing.Wires)
                Assert.InRange(wire.From.Y, view[1], view[1] + view[3]);
        }
    }

    [Fact]
    public void The_stages_of_the_sample_are_drawn()
    {
        var frontEnd = SampleFrontEnd.Build();
        foreach (var stage in frontEnd.Stages)
            Assert.NotNull(Layout.Of(stage.Parts, stage.Ports[0].Node, stage.Ports[^1].Node, Rails));
    }
}
