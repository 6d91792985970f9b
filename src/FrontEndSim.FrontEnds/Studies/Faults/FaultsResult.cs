using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Studies.Faults;

/// <summary>What reaches each pin when one thing at a time is broken.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Whole">A row for each pin of the whole front end, for comparison.</param>
/// <param name="Faults">A row for each fault and pin, in the order of <see cref="SingleFault.Of"/>.</param>
/// <param name="Cautions">Cautions of the events, each once.</param>
public sealed record FaultsResult(string Title, ImmutableArray<FaultRow> Whole, ImmutableArray<FaultRow> Faults,
    ImmutableArray<string> Cautions)
{
    /// <summary>What the firmware sees of each; null where no pin reads a sensor.</summary>
    public Detection? Detection { get; init; }

    /// <summary>Whether every pin survives every single fault. True if there are no faults.</summary>
    public bool AllSurvive => Faults.All(f => f.Survives);
}

/// <summary>What reaches a pin with one fault (or none) in the front end.</summary>
/// <param name="Fault">What is broken, or null for the whole front end.</param>
/// <param name="Pin">Name of the pin.</param>
public sealed record FaultRow(SingleFault? Fault, string Pin)
{
    /// <summary>At the pin with all sensors at the lower end of their spans, from the lowest to the highest voltage at which it may stand
    /// by what leaks; null where no solution was found.</summary>
    public PinExposure? AtLowEnd { get; init; }

    /// <summary>The same with all sensors at the upper end of their spans; null where no solution was found.</summary>
    public PinExposure? AtHighEnd { get; init; }

    /// <summary>The event that comes nearest to a rating of the pin or goes furthest beyond; null without events.</summary>
    public FaultEvent? WorstEvent { get; init; }

    /// <summary>What reaches the pin in it.</summary>
    public PinExposure? InWorstEvent { get; init; }

    /// <summary>Whether nothing holds the pin any more, so that it may stand anywhere between its supplies.</summary>
    public bool Floats { get; init; }

    /// <summary>Whether the pin keeps its ratings at both ends of the span and in every event.</summary>
    public bool Survives { get; init; }

    /// <summary>Where the exposure that decides is; null where no solution was found.</summary>
    public Occasion? Where { get; init; }

    /// <summary>The exposure that decides; null where no solution was found.</summary>
    public PinExposure? Deciding { get; init; }

    /// <summary>What could not be computed; null where all could.</summary>
    public NotComputed? Problem { get; init; }

    /// <summary>The smallest margin over what is rated, of both ends and the worst event; negative infinity where no solution was
    /// found.</summary>
    public double Tightness => AtLowEnd is null ? double.NegativeInfinity
        : new[] { AtLowEnd, AtHighEnd, InWorstEvent }.Min(e => e?.Tightness ?? double.PositiveInfinity);

    /// <summary>What is broken, in words; "nothing" for the whole front end.</summary>
    public string Text => Fault?.Text ?? "nothing";
}
