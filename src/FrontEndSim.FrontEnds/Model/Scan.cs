namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// Pins that one converter reads in turn through its multiplexer, over and over: its sampling capacitor still holds the voltage of the
/// pin before when it is connected to the next.
/// </summary>
/// <param name="Name">Its name.</param>
/// <param name="Pins">Names of the pins in the order that the firmware reads them, each once, at least one.</param>
public sealed record Scan(string Name, ImmutableArray<string> Pins)
{
    /// <summary>
    /// Time from one reading to the next, s, longer than any pin's acquisition time; null where it is not known: each pin is then at the
    /// operating point when its turn comes.
    /// </summary>
    public double? EverySeconds { get; init; }

    /// <summary>
    /// Time from the moment at which an external multiplexer is switched to the beginning of the first sample, s; null for all the time
    /// between two readings, and for none where no rate is known.
    /// </summary>
    public double? WaitSeconds { get; init; }

    /// <summary>How many readings of each pin the firmware throws away before the one that it keeps.</summary>
    public int Discarded { get; init; }

    /// <summary>The pin whose voltage the capacitor still holds at the first reading of a pin.</summary>
    /// <param name="pin">Name of the pin, one of <see cref="Pins"/>.</param>
    public string Before(string pin) => Pins[(Pins.IndexOf(pin) + Pins.Length - 1) % Pins.Length];
}
