namespace FrontEndSim.FrontEnds.Model;

/// <summary>The pin stays inside its ratings with any one part, rail or sensor broken: at both ends of the span and in every event.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record InsideRatingWithSingleFault(string Pin, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);

/// <summary>A part stays below a share of its rated power: at rest at both ends of the span, and in every event once its heat is averaged.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="MaximumShare">The share, above zero: 0.5 is half of the rating.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record PartPower(string Part, double MaximumShare, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);
