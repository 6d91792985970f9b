using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>The pin stays inside its ratings of voltage and injection current in an event.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Event">Name of the event; null for every event of the front end.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record InsideRating(string Pin, string? Event, string Text, int? SourceLine = null) : Requirement(Text, SourceLine)
{
    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var pin = solved.FrontEnd.FindPin(Pin);
        var events = Event is { } name ? [solved.FrontEnd.FindEvent(name)] : solved.FrontEnd.Events;
        var exposures = events.Select(e => (Event: e, Pin: solved.Event(e, cancel).Pins.First(p => p.Pin.Name == pin.Name))).ToArray();
        if (exposures.Length == 0)
            throw new StudyProblemException($"\"{Text}\" cannot be judged: the circuit has no event.");
        var (fault, worst) = exposures.MinBy(e => e.Pin.Tightness);
        var decisive = worst.Decisive;
        return new(this, worst.IsInside ? Verdict.Met : Verdict.NotMet,
            new PinReason(new() { Event = fault.Name, Sensors = SpanPlace.Middle }, worst, exposures.Count(e => !e.Pin.IsInside), exposures.Length))
        {
            Found = decisive?.Found ?? new(worst.HighestVolts, Quantities.Unit.Volts),
            Limit = decisive?.Limit,
            Margin = decisive?.Margin,
            Mends = worst.Mends,
        };
    }
}
