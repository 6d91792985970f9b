using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>No single fault leaves a code that is a valid reading and a wrong one: firmware can tell each, wherever the sensor stands, with
/// all tolerances together.</summary>
/// <param name="Pin">Name of the pin that is to show it; null for every pin that reads a sensor.</param>
/// <param name="Scope">Which faults.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record FaultsDetectable(string? Pin, DetectionScope Scope, string Text) : Requirement(Text)
{
    /// <summary>Of every pin that reads a sensor with alarm levels, these.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        MappingStudy.Mapped(frontEnd).Where(p => p.Converter is not null && MappingStudy.SensorOf(frontEnd, p) is { Alarms: not null })
            .Select(p => new FaultsDetectable(p.Name, DetectionScope.Alarms, ""));

    internal override bool Covers(Requirement implied) => implied is FaultsDetectable other && (Pin is null || Pin == other.Pin);

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var detection = solved.Detection(Scope, cancel);
        var frontEnd = solved.FrontEnd;
        bool Concerns(string sensor) => Pin is null || MappingStudy.SensorOf(frontEnd, frontEnd.FindPin(Pin))?.Name == sensor;
        DetectionRow[] rows = [.. detection.Rows.Where(r => Concerns(r.Sensor))];
        if (rows.Length == 0)
            throw new StudyProblemException(new(ProblemKind.NoPinFollows, "", Text));
        DetectionRow[] hidden = [.. rows.Where(r => r.Sight is FaultSight.Hidden or FaultSight.AtTimes)],
            unknown = [.. rows.Where(r => r.Sight == FaultSight.NotKnown)];
        var deciding = hidden.OrderBy(r => r.Sight == FaultSight.Hidden ? 0 : 1).FirstOrDefault()
            ?? rows.Where(r => r.Sight == FaultSight.Detected).MinBy(r => r.MarginCounts ?? double.PositiveInfinity);
        var verdict = hidden.Length > 0 ? Verdict.NotMet : unknown.Length > 0 ? Verdict.NotKnown : Verdict.Met;
        return new(this, verdict, verdict == Verdict.NotKnown ? unknown[0].Problem!
            : new DetectionReason(deciding, [.. hidden], [.. unknown],
            rows.Count(r => r.Sight == FaultSight.Harmless), rows.Length, [.. detection.Bands.Where(b => Concerns(b.Sensor))]))
        {
            Found = Quantity.Number(hidden.Length),
            Limit = Quantity.Number(0),
            Margin = Quantity.Number(-hidden.Length),
            Candidates = hidden.Length == 0 ? [] : [.. Mends(frontEnd, hidden[0].Sensor)],
        };
    }

    /// <summary>A resistor that takes an open wire out of the valid codes, or codes that are kept for faults.</summary>
    private static IEnumerable<Mend> Mends(FrontEnd frontEnd, string name)
    {
        var sensor = frontEnd.FindSensor(name);
        var pin = MappingStudy.Mapped(frontEnd).First(p => MappingStudy.SensorOf(frontEnd, p)?.Name == name);
        yield return new(MendKind.PullDown, sensor.Node);
        if (pin.ClampRail is { } rail && rail != sensor.Node)
            yield return new(MendKind.PullUp, sensor.Node) { Other = rail };
        if (pin.Converter is { } converter && frontEnd.Stages.FirstOrDefault(s => s.Mapping?.Sensor == name) is { } stage)
        {
            var range = converter.Range(frontEnd.Rails);
            yield return new(MendKind.ReserveBand, stage.Name) { From = new(range.Low, Unit.Volts), To = new(range.High, Unit.Volts) };
        }
    }
}
