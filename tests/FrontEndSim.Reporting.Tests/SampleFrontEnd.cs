using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;


namespace FrontEndSim.Reporting.Tests;

/// <summary>A level probe of −1.2 V to 1.8 V brought to a 3.3 V converter pin, part by part: two inverting stages and a guard.</summary>
internal static class SampleFrontEnd
{
    public static FrontEnd Build(string title = "Level probe of a rain tank")
    {
        var opAmp = PartCatalogue.Standard.FindOpAmp("bipolar-general")!;
        ResistorPart R(string name, string from, string to, double ohms) => new(name, from, to, new Toleranced(ohms, 0.01));
        DiodePart D(string name, string from, string to, string type) => new(name, from, to,
            PartCatalogue.Standard.FindDiode(type, type.StartsWith('1') ? DiodeKind.Schottky : DiodeKind.Zener)!);
        // Gain 1.1 and an offset of 1.32 V: hand math of two inverting stages, Rf1/R1 = 1.1, Rf1/Rr = 0.4, second stage −1.
        var shift = new Stage("shift", "two-stage-shifter", [new("from", "IN"), new("to", "LEVEL")],
        [
            R("shift.R1", "IN", "shift.SUM1", 10e3), R("shift.Rr", "VDD", "shift.SUM1", 27.4e3),
                R("shift.Rf1", "shift.SUM1", "shift.MID", 11e3),
            new OpAmpPart("shift.A1", "GND", "shift.SUM1", "shift.MID", "VP", "VN", opAmp),
            R("shift.R2", "shift.MID", "shift.SUM2", 10e3), R("shift.Rf2", "shift.SUM2", "LEVEL", 10e3),
            R("shift.Rc2", "shift.PLUS2", "GND", 4.99e3),
            new OpAmpPart("shift.A2", "shift.PLUS2", "shift.SUM2", "LEVEL", "VP", "VN", opAmp),
        ])
        {
            HandMath = [new("overall gain", "G = Rf1/R1 · Rf2/R2", "11/10 · 10/10", 1.1, "")],
            Mapping = new("probe", new(-1.2, 1.8), new(0, 3.3)),
        };
        var guard = new Stage("guard", "pin-guard", [new("from", "LEVEL"), new("to", "PIN")],
        [
            R("guard.Rs", "LEVEL", "PIN", 4.7e3), new CapacitorPart("guard.C", "PIN", "GND", new(10e-9, 0.05)),
            D("guard.DZ", "GND", "PIN", "3V6"), D("guard.DL", "GND", "PIN", "1N5817"), D("guard.DH", "PIN", "VDD", "1N5817"),
                R("guard.Rp", "PIN", "GND", 470e3),
        ]);
        return new FrontEnd
        {
            Title = title,
            Rails = [new("VP", 9), new("VN", -9), new("VDD", 3.3)],
            Sensors = [new("probe", "IN", new(-1.2, 1.8), 220)],
            Stages = [shift, guard],
            Parts = [new CapacitorPart("Cd", "VP", "GND", 100e-9)],
            Pins =
            [
                new("adc", "PIN")
                {
                    RatedLow = new(null, -0.3), RatedHigh = new("VDD", 0.3), InjectionAmps = 2e-3,
                        Converter = new(12, new(new(null, 0), new("VDD", 0))),
                },
            ],
            Events = [new("24 V put on the sensor terminal", "IN", new StepTo(24, 1, 1e-3, 50e-3)),
                new("24 V straight on the pin", "PIN", new StepTo(24, 100, 1e-3, 5e-3))],
            Requirements = [new InsideRating("adc", null, "adc inside rating in every event"),
                new MappingError("adc", 40, "adc mapping error under 40 counts")],
        };
    }
}
