using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>The pin stays inside its ratings of voltage and injection current in an event, and without one.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Event">Name of the only event that is meant; null for every event of the front end and for the operating point.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record InsideRating(string Pin, string? Event, string Text) : Requirement(Text)
{
    /// <summary>Whether it must hold though nobody wrote it: of every pin with a rating.</summary>
    public bool IsImplied { get; init; }

    /// <inheritdoc/>
    public override string? Happening => Event;

    /// <inheritdoc/>
    public override Requirement In(string happening) => this with { Event = happening };

    /// <summary>Of every pin with a rating, or with clamps of its own, which carry no more than any pin's.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.OwnPins.Where(p => p.RatedHigh is not null || p.RatedLow is not null || p.InjectionAmps is not null || p.HasClamps)
            .Select(p => new InsideRating(p.Name, null, "") { IsImplied = true });

    internal override bool Covers(Requirement implied) =>
        implied is InsideRating other && other.Pin == Pin && (Event is null || Event == other.Event);

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var pin = solved.FrontEnd.FindPin(Pin);
        // What reaches a pin of the chip is the same whatever it is called.
        pin = pin.SameAs is { } own ? solved.FrontEnd.FindPin(own) : pin;
        if (Event is null && solved.FrontEnd.Events.IsEmpty && !IsImplied)
            throw new StudyProblemException(new(ProblemKind.NoEvents, "", Text));
        ImmutableArray<SurvivalRun> runs = Event is { } name ? solved.Survival(solved.FrontEnd.FindEvent(name), cancel).Runs
            : solved.Everywhere(cancel);
        var exposures = runs.Where(r => !r.Pins.IsEmpty).Select(r => (r.Where, Pin: r.Pins.First(p => p.Pin.Name == pin.Name))).ToArray();
        var problem = runs.Select(r => r.Problem).FirstOrDefault(p => p is not null);
        if (exposures.Length == 0)
            return new(this, Verdict.NotKnown, problem!);
        static bool IsInside(PinExposure pin) => pin.IsInside || pin is { IsRated: false, IsInjectedTooMuch: false };
        // Of a pin without a rating only what no pin stands tells.
        var (where, worst) = exposures.MinBy(e => e.Pin.IsRated || e.Pin.IsInjectedTooMuch ? e.Pin.Tightness : double.PositiveInfinity);
        if (IsInside(worst) && problem is not null)
            return new(this, Verdict.NotKnown, problem);
        var decisive = worst.Decisive;
        string?[] events = [.. exposures.Select(e => e.Where.Event).Distinct()];
        return new(this, IsInside(worst) ? Verdict.Met : Verdict.NotMet,
            new PinReason(where, worst, events.Count(e => exposures.Any(x => x.Where.Event == e && !IsInside(x.Pin))), events.Length))
        {
            Found = decisive?.Found ?? new(worst.HighestVolts, Unit.Volts),
            Limit = decisive?.Limit,
            Margin = decisive?.Margin,
            Candidates = worst.Candidates,
        };
    }
}
