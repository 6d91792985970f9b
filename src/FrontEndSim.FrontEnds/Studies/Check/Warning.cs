namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>What a person should know of a front end though no requirement asks for it.</summary>
public abstract record Warning;

/// <summary>A rail is driven too far from its voltage.</summary>
/// <param name="Rail">Name of the rail.</param>
/// <param name="RestVolts">Its voltage before the event, V.</param>
/// <param name="Volts">Where it is driven, V.</param>
/// <param name="Where">The event that drives it furthest.</param>
/// <param name="OtherEvents">In how many other events it is driven too far.</param>
public sealed record RailDriven(string Rail, double RestVolts, double Volts, Occasion Where, int OtherEvents) : Warning;

/// <summary>A supply that is off in an event is fed backwards, so that what it feeds is neither on nor off.</summary>
/// <param name="Rail">Name of the rail.</param>
/// <param name="Volts">Where it floats while nothing else holds it, V.</param>
/// <param name="Event">The event that takes its supply.</param>
public sealed record RailBackFed(string Rail, double Volts, string Event) : Warning;

/// <summary>An event strikes a node that a source holds without any resistance, so that it moves nothing.</summary>
/// <param name="Event">Name of the event.</param>
/// <param name="Node">The node.</param>
/// <param name="Holder">Name of the rail or sensor that holds it.</param>
/// <param name="IsSensor">Whether that is a sensor.</param>
public sealed record EventSwallowed(string Event, string Node, string Holder, bool IsSensor) : Warning;

/// <summary>An event reaches nothing, as the arrester that couples it does not fire.</summary>
/// <param name="Event">Name of the event.</param>
/// <param name="FiresAtVolts">What the arrester fires at, V.</param>
/// <param name="PeakVolts">What the wave reaches, V, as a magnitude.</param>
public sealed record ArresterSilent(string Event, double FiresAtVolts, double PeakVolts) : Warning;
