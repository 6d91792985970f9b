namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>What a person should know of a design though no requirement asks for it.</summary>
public abstract record DesignNote;

/// <summary>Events push current into a rail that only delivers, and a resistor to ground takes it.</summary>
/// <param name="Rail">Name of the rail.</param>
/// <param name="Ohms">The resistor, ohm.</param>
/// <param name="DrawnAmps">What it draws from the rail at all times, A.</param>
public sealed record RailBled(string Rail, double Ohms, double DrawnAmps) : DesignNote;

/// <summary>The guard's series resistor takes more than half of what is usual.</summary>
/// <param name="Watts">What it takes at worst, averaged by its heat, W.</param>
/// <param name="RatedWatts">What is usual, W.</param>
public sealed record LargeSeriesResistor(double Watts, double RatedWatts) : DesignNote;

/// <summary>The guard's clamps leak more than a hundredth of full scale when they are hot.</summary>
/// <param name="Clamp">Type of the clamps.</param>
/// <param name="HotCounts">What that costs at worst, counts.</param>
public sealed record LeakyClamp(string Clamp, double HotCounts) : DesignNote;

/// <summary>Nothing says what the pin leaks.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="LeakageAmps">A leakage to count with, A.</param>
/// <param name="ErrorVolts">What it would cost in the guard's series resistor, V.</param>
public sealed record LeakageUnknown(string Pin, double LeakageAmps, double ErrorVolts) : DesignNote;

/// <summary>With the supplies off an event takes the pin beyond its ratings.</summary>
/// <param name="Event">Name of the event.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="LowestVolts">Its lowest voltage, V.</param>
/// <param name="HighestVolts">Its highest voltage, V.</param>
/// <param name="InjectionAmps">The most that its clamps carry, A.</param>
public sealed record BeyondRatingWhenOff(string Event, string Pin, double LowestVolts, double HighestVolts, double InjectionAmps)
    : DesignNote;
