using System.Collections.Immutable;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>No mode grows about the operating points over the span, at any temperature, and every op amp has phase margin.</summary>
public sealed record OpAmpsStable() : Requirement("")
{
    // With less a step overshoots by more than half (ζ ≈ PM/100: common practice, no source), and a little more load makes it oscillate.
    private const double LeastDegrees = 30;

    // Nodes with less of a mode are not part of its path.
    private const double Telling = 0.05;

    private static readonly SpanPlace[] Places = [SpanPlace.Middle, SpanPlace.Low, SpanPlace.High];

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        ImmutableArray<AmplifierElement> amps = [.. solved.FrontEnd.AllParts.SelectMany(p => p.Amplifiers)];
        StabilityReason? least = null;
        foreach (var place in Places)
        {
            var circuit = solved.Compiled(solved.At(place));
            var where = new Occasion { Sensors = place };
            if (circuit.SolveModes(cancel).Modes.FirstOrDefault(m => m.Grows) is { } growing)
            {
                return new(this, Verdict.NotMet, new StabilityReason(Owner(amps, growing), where)
                {
                    GrowthPerSecond = growing.RadiansPerSecond.Real,
                    Hertz = growing.Hertz,
                    Path = [.. growing.Unknowns.Where(u => u.Share > Telling).Select(u => u.Name)],
                });
            }
            foreach (var amp in amps)
            {
                var loop = circuit.SolveLoopGain(amp.Name, cancel);
                // Feedback that nowhere reaches a gain of one cannot make it ring.
                if (double.IsFinite(loop.PhaseMarginDegrees) && (least is null || loop.PhaseMarginDegrees < least.PhaseMarginDegrees))
                    least = new(amp.Name, where) { PhaseMarginDegrees = loop.PhaseMarginDegrees, Hertz = loop.CrossoverHertz };
            }
        }
        return least is null ? new(this, Verdict.Met, new NothingToJudge())
            : Above(Quantity.Number(least.PhaseMarginDegrees!.Value), Quantity.Number(LeastDegrees), least);
    }

    private static string? Owner(ImmutableArray<AmplifierElement> amps, Mode mode) => mode.Unknowns
        .Select(u => amps.FirstOrDefault(a => a.Ports.Output == u.Name || u.Name.StartsWith(a.Name, StringComparison.Ordinal))?.Name)
            .FirstOrDefault(n => n is not null);
}
