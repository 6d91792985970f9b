using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Something that the front end must fulfil. It knows how it is judged.</summary>
/// <param name="Text">The requirement in words, as the user wrote it; empty where nobody did.</param>
public abstract record Requirement(string Text)
{
    /// <summary>Whether a front end fulfils it, by how much, and what decides.</summary>
    /// <param name="solved">The front end, with what is solved of it.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">It names what is not there, or cannot be judged.</exception>
    public abstract RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default);

    /// <summary>Whether a judgement looks at one temperature only, so that it is made at each that the front end is judged at.</summary>
    internal virtual bool IsOfOneTemperature => false;

    /// <summary>The one event that it is of; null for one of every event or of none.</summary>
    public virtual string? Happening => null;

    /// <summary>The same of another event, for one that is of one event.</summary>
    public virtual Requirement In(string happening) => this;

    /// <summary>Whether it says what another, that would be judged unwritten, says too.</summary>
    internal virtual bool Covers(Requirement implied) => false;

    /// <summary>What may be off of the reading of a pin by it, in the sensor's unit; null where it says nothing of that.</summary>
    internal virtual double? Tolerated(FrontEnd frontEnd, string pin) => null;

    /// <summary>The same in counts.</summary>
    internal virtual double? ToleratedCounts(string pin) => null;

    /// <summary>The pin or reading whose error it bounds on boards with all tolerances, and on which share of them: null for every
    /// one.</summary>
    internal virtual (string Of, double? Share)? OnBoards => null;

    /// <summary>The result of a number that must stay below a limit.</summary>
    private protected RequirementResult Below(Quantity found, Quantity limit, Reason reason) =>
        Of(found.Value < limit.Value, found, limit, limit - found, reason);

    /// <summary>The result of a number that must stay above a limit.</summary>
    private protected RequirementResult Above(Quantity found, Quantity limit, Reason reason) =>
        Of(found.Value > limit.Value, found, limit, found - limit, reason);

    private RequirementResult Of(bool met, Quantity found, Quantity limit, Quantity margin, Reason reason) =>
        new(this, met ? Verdict.Met : Verdict.NotMet, reason)
        {
            Found = found,
            Limit = limit,
            Margin = double.IsFinite(margin.Value) ? margin with { IsShare = found.IsShare, UnitText = found.UnitText } : null,
        };
}
