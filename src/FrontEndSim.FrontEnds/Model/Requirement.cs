namespace FrontEndSim.FrontEnds.Model;

/// <summary>Something that the front end must fulfil.</summary>
/// <param name="Text">The requirement in words, as the user wrote it.</param>
/// <param name="SourceLine">Line in the circuit file, from 1; null if it comes from elsewhere.</param>
public abstract record Requirement(string Text, int? SourceLine);

/// <summary>The pin stays inside its ratings of voltage and injection current in an event.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Event">Name of the event; null for every event of the front end.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record InsideRating(string Pin, string? Event, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);

/// <summary>The mapping of the sensor's span onto the pin is off by less than a number of counts.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="MaximumCounts">The error must be below this, counts, above zero.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record MappingError(string Pin, double MaximumCounts, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);

/// <summary>Each op amp of a stage keeps a distance from the limits of its output swing and its inputs' common mode.</summary>
/// <param name="Stage">Name of the stage.</param>
/// <param name="MinimumVolts">The distance must be above this, V.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record Headroom(string Stage, double MinimumVolts, string Text, int? SourceLine = null) : Requirement(Text, SourceLine);
