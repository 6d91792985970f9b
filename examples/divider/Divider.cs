using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
var circuit = new Circuit(
[
    new VoltageSource("V1", "IN", Circuit.Ground, 5),
    new Resistor("R1", "IN", "OUT", 10e3),
    new Resistor("R2", "OUT", Circuit.Ground, 20e3),
]);
var rest = circuit.Compile().SolveOperatingPoint();
Console.WriteLine(FormattableString.Invariant($"OUT {rest.Nodes["OUT"]:0.000} V, R2 takes {rest.Parts["R2"].Watts * 1e6:0.0} uW"));
