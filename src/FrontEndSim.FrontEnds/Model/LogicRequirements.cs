namespace FrontEndSim.FrontEnds.Model;

/// <summary>Both ends of the sensor's span read as their level with something in hand, all tolerances at their worst.</summary>
/// <param name="Pin">Name of the pin, which reads logic.</param>
/// <param name="MinimumVolts">The smaller of the two noise margins must be above this, V, at least 0.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record NoiseMargin(string Pin, double MinimumVolts, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);

/// <summary>A sudden change of the sensor is at the pin's certain level soon enough.</summary>
/// <param name="Pin">Name of the pin, which reads logic.</param>
/// <param name="MaximumSeconds">The longer of the two delays must be below this, s, above zero.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record EdgeDelay(string Pin, double MaximumSeconds, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);

/// <summary>A change of the sensor gives one change of the gate behind the pin, the sudden one and the slowest one.</summary>
/// <param name="Pin">Name of the pin, which reads logic.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record CleanEdges(string Pin, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);
