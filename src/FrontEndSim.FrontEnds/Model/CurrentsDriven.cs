using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// Every transmitter can drive its current: at both ends of its span, and at its upper alarm level, enough voltage is left to it with all
/// tolerances in the worst case. One that has too little stops short of its current, and what is read is too low.
/// </summary>
public sealed record CurrentsDriven() : Requirement("")
{
    /// <summary>Where there is a transmitter.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        Transmitters(frontEnd).Any() ? [new CurrentsDriven()] : [];

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var sources = new ErrorSources(solved.FrontEnd);
        var worst = Transmitters(solved.FrontEnd).SelectMany(t =>
        {
            double[] values = [.. t.Values.Distinct().Order()];
            string[] nodes = [.. new[] { t.Node, t.Other, t.Limit.Supply ?? Circuit.Ground }.Where(n => n != Circuit.Ground).Distinct()];
            var drawn = solved.Compiled().SweepTrials(t.Sensor.Name, values, sources.Numbers, sources.DrawsOfEachAlone,
                sources.SetEachAlone, nodes, cancel: cancel);
            return values.Select((value, k) =>
            {
                double At(int draw, string? node) => node is null or Circuit.Ground ? 0 : drawn.Voltage(draw, node)[k];
                double left = sources.Bound(d => t.Limit.Left(At(d, t.Node), At(d, t.Other), At(d, t.Limit.Supply))).Low;
                return new ComplianceReason(t.Name, t.Sensor.Name, value, t.Sensor.UnitText, t.Limit, left) { IsTaken = t.IsTaken };
            });
        }).MinBy(r => r.LeftVolts)!;
        return new(this, worst.LeftVolts >= 0 ? Verdict.Met : Verdict.NotMet, worst)
        {
            Found = new(worst.FoundVolts, Unit.Volts),
            Limit = new(worst.Limit.Volts, Unit.Volts),
            Margin = new(worst.LeftVolts, Unit.Volts),
        };
    }

    private sealed record Transmitter(string Name, Sensor Sensor, double[] Values, string Node, string Other, Compliance Limit,
        bool IsTaken);

    private static IEnumerable<Transmitter> Transmitters(FrontEnd frontEnd)
    {
        foreach (var sensor in frontEnd.Sensors.Where(s => s.Output == Unit.Amps && (s.Compliance is not null || s.Alarms is not null)))
        {
            double[] ends = [sensor.Span.Low, sensor.Span.High];
            yield return new(sensor.Name, sensor, sensor is { Alarms: { } alarms, Law: StraightLaw law }
                ? [.. ends, law.QuantityAt(alarms.HighAmps)] : ends, sensor.Node, sensor.Other,
                sensor.Compliance ?? new(Compliance.UsualVolts, null), sensor.Compliance is null);
        }
        foreach (var part in frontEnd.AllParts)
        {
            if (part.Loop is { } loop && SignalPath.SensorOf(frontEnd, loop.Command) is { } sensor)
                yield return new(part.Name, sensor, [sensor.Span.Low, sensor.Span.High], loop.Node, Circuit.Ground,
                    new(loop.AcrossVolts ?? Compliance.UsualAcrossVolts, loop.Supply), loop.AcrossVolts is null);
        }
    }
}
