using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Boards;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>The mapping of the sensor's span onto the pin is off by less than a number of counts.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="MaximumCounts">The error must be below this, counts, above zero.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record MappingError(string Pin, double MaximumCounts, string Text) : Requirement(Text)
{
    /// <summary>What is asked of the boards that are built; null where the error of nominal parts is judged.</summary>
    public BoardTarget? Boards { get; init; }

    // Boards are calibrated at one temperature and read at all.
    internal override bool IsOfOneTemperature => Boards is null;

    internal override double? ToleratedCounts(string pin) => pin == Pin ? MaximumCounts : null;

    internal override (string Of, double? Share)? OnBoards => Boards is { } boards ? (Pin, boards.Share) : null;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        solved.FrontEnd.FindPin(Pin);
        var mapping = solved.Mapping(Pin, cancel: cancel);
        var unit = mapping.Converts ? Unit.Count : Unit.Volts;
        double scale = mapping.Converts ? 1 : 1e-3;
        if (Boards is { } boards)
        {
            var spread = solved.Boards(mapping, boards, false, null, cancel);
            return Below(new(spread.Largest * scale, unit), new(MaximumCounts * scale, unit),
                new BoardReason(mapping.Sensor, Pin, mapping.SensorUnit, spread));
        }
        var reason = new MappingReason(mapping.Sensor, mapping.Pin, mapping.Worst, null)
        {
            SensorUnit = mapping.SensorUnit,
            Reference = Reference(solved.Reading(Pin).FrontEnd, mapping),
        };
        // What a switch leaves on the capacitor that holds for the converter is in every reading, at either end of the span.
        var held = solved.Reading(Pin);
        var pedestals = held.Pedestals(held.FrontEnd.FindPin(Pin), cancel);
        if (!pedestals.IsEmpty)
        {
            double counts = pedestals.Sum(p => p.Volts) / mapping.CountVolts;
            var worst = mapping.Points.MaxBy(p => Math.Abs(p.ErrorCounts + counts))!;
            return Below(new(Math.Abs(worst.ErrorCounts + counts) * scale, unit), new(MaximumCounts * scale, unit),
                reason with { Worst = worst, Pedestals = pedestals });
        }
        var result = Below(new(Math.Abs(mapping.Worst.ErrorCounts) * scale, unit), new(MaximumCounts * scale, unit), reason);
        if (result.Met)
            return result;
        var cause = MappingCause.Find(solved, mapping, cancel);
        return result with
        {
            Reason = reason with { Cause = cause },
            Candidates = Mend(solved.FrontEnd, mapping, cause) is { } mend
            ? [mend] : []
        };
    }

    // Where the pin makes less than half of the error, what it is measured against makes the rest.
    private static ReferenceOff? Reference(FrontEnd frontEnd, MappingResult mapping)
    {
        var worst = mapping.Worst;
        if (frontEnd.FindPin(mapping.Pin).Converter is not { } converter
            || Math.Abs((worst.PinVolts - worst.IdealVolts) / mapping.CountVolts) > 0.5 * Math.Abs(worst.ErrorCounts))
            return null;
        var (nearest, _) = mapping.Sweep.Points.Zip(mapping.Sweep.Values).MinBy(p => Math.Abs(p.Second - worst.SensorValue));
        return converter.References
            .Select(name => new ReferenceOff(name, nearest.Nodes[name], frontEnd.Rails.First(r => r.Name == name).Volts.Value))
            .Where(r => r.Volts != r.NominalVolts).MaxBy(r => Math.Abs(r.Volts / r.NominalVolts - 1));
    }

    private static Mend? Mend(FrontEnd frontEnd, MappingResult mapping, MappingCause? cause)
    {
        if (cause is { Of: Imperfection.Leakage, Part: var leaky } && leaky.NextVoltages(higher: true).Any())
            return new(MendKind.HigherZener, leaky.Name);
        if (cause is { Of: { } of, Part: var part } && part.WithLess(of).Any())
            return of == Imperfection.Leakage ? new(MendKind.LessLeakage, part.Name)
                : new(MendKind.LessBiasCurrent, part.Name) { Other = part.ValueText };
        if (cause is { Of: null, Part: { IsResistor: true } resistor })
            return new(MendKind.RaiseToGround, resistor.Name) { From = new(resistor.Value!.Amount.Value, Unit.Ohm) };
        double worst = Math.Abs(mapping.Worst.ErrorCounts);
        if (ValuesAlone(frontEnd, mapping) is var (stage, counts) && counts > 0.4 * worst)
            return new(MendKind.FinerValues, stage) { For = new(counts, Unit.Count) };
        if (Math.Abs(mapping.NonlinearityCounts) < 0.1 * worst)
            return new(MendKind.CalibrateLine, mapping.Pin);
        return null;
    }

    /// <summary>The error that the mapping stage's nominal values leave even with ideal parts, counts; null without such a stage.</summary>
    private static (string Stage, double Counts)? ValuesAlone(FrontEnd frontEnd, MappingResult mapping)
    {
        if (frontEnd.Stages.FirstOrDefault(s => s.Mapping is { } target && target.Sensor == mapping.Sensor
            && target.Output == mapping.Wanted.Output) is not { Ideal: { } ideal, Mapping: { } wanted } stage)
            return null;
        double Error(double volts) => Math.Abs(ideal.Output(volts) - wanted.Ideal(volts)) / mapping.CountVolts;
        return (stage.Name, Math.Max(Error(mapping.Wanted.Input.Low), Error(mapping.Wanted.Input.High)));
    }
}
