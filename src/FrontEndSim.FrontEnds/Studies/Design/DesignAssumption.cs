namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Something that a design takes for granted.</summary>
public abstract record DesignAssumption;

/// <summary>A pin of which only its span was given.</summary>
/// <param name="Bits">Resolution of its converter.</param>
/// <param name="Supply">The rail up to which it converts, from 0 V.</param>
/// <param name="LeakageAmps">Its leakage, A.</param>
/// <param name="BeyondVolts">How far beyond its rails it may be taken, V.</param>
/// <param name="InjectionAmps">What its clamps may carry, A.</param>
public sealed record PinTaken(int Bits, string Supply, double LeakageAmps, double BeyondVolts, double InjectionAmps) : DesignAssumption;

/// <summary>Resistors of one tolerance, in every series; op amps as their class.</summary>
/// <param name="Tolerance">The tolerance, a fraction.</param>
public sealed record ResistorsTaken(double Tolerance) : DesignAssumption;

/// <summary>What the sensor's span has become where the stage starts; the values are chosen for that.</summary>
/// <param name="Node">The node.</param>
/// <param name="Span">What arrives there, V.</param>
/// <param name="SourceOhms">The resistance that it arrives through, ohm.</param>
public sealed record SpanArriving(string Node, Span Span, double SourceOhms) : DesignAssumption;

/// <summary>The sensor's source resistance is counted into the values.</summary>
/// <param name="SourceOhms">The resistance, ohm.</param>
public sealed record SourceCounted(double SourceOhms) : DesignAssumption;

/// <summary>Rails that have no tolerance.</summary>
/// <param name="Rails">Their names.</param>
public sealed record RailsExact(ImmutableArray<string> Rails) : DesignAssumption;
