using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Words;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>Each stage as a person calculates it, line by line, with the simulated value at the right; then input against output.</summary>
internal static class ExplainScreen
{
    /// <summary>Stage by stage, then sensor against pin.</summary>
    public static IEnumerable<IRenderable> Of(string title, ExplainResult explained)
    {
        yield return Blocks.Title(title);
        foreach (var stage in explained.Stages)
        {
            yield return Blocks.Title($"{stage.Stage.Name}: {stage.Stage.Kind}");
            if (stage.Steps.IsEmpty)
                yield return new Text("No hand math: a stage of your own, or one without a formula.\n");
            else
                yield return Steps(stage);
            yield return Blocks.Blank;
            if (stage.Lines.IsEmpty)
                continue;
            yield return Lines(stage);
            yield return Blocks.Blank;
            yield return Blocks.Margin([(Blocks.Word("Why"), new Text(ExplainWords.Reason(stage)))]);
            yield return Blocks.Blank;
        }
        foreach (var mapping in explained.Mappings)
        {
            yield return Blocks.Title($"Sensor {mapping.Sensor} onto pin {mapping.Pin}, ideal and real");
            yield return Mapping(mapping);
            yield return Blocks.Blank;
        }
        foreach (var costs in explained.Costs.Where(c => !c.Parts.IsEmpty))
        {
            yield return Blocks.Title($"What the protection of pin {costs.Pin} costs ({costs.Unit}): the reading with each part less the reading without it");
            yield return Blocks.Table(["part", $"at {Blocks.Volts(costs.Span.Low)}", $"at {Blocks.Volts(costs.Span.High)}"], [1, 2],
                costs.Parts.Select(p => (string[])[$"{p.Words}, {p.ValueText}" + (p.IsSeries ? " (what the others and the pin draw through it)" : ""), SiText.Signed(p.LowCounts), SiText.Signed(p.HighCounts)]));
            yield return Blocks.Blank;
        }
    }

    private static Table Steps(StageExplanation stage) => Blocks.Table(["formula, numbers", "by hand", "simulated", "difference"], [1, 2, 3],
        stage.Steps.SelectMany(s => (string[][])
        [
            [$"{s.Step.What}: {s.Step.Formula}", "", "", ""],
            ["  = " + Substituted(s.Step), "= " + Value(s.Step.Result, s.Step.Unit),
                s.Simulated is { } simulated ? Value(simulated, s.Step.Unit) : "", s.Difference is { } difference ? Difference(difference, s.Step) : ""],
            .. !s.Causes.IsEmpty ? [["  why: " + ExplainWords.Why(s), "", "", ""]] : Array.Empty<string[]>(),
        ]));

    /// <summary>The numbers without the left side of the equation, which stands above.</summary>
    private static string Substituted(HandStep step)
    {
        int equals = step.Substitution.IndexOf(" = ", StringComparison.Ordinal);
        return equals < 0 ? step.Substitution : step.Substitution[(equals + 3)..];
    }

    private static string Value(double value, string unit) => unit == "V" ? Blocks.Volts(value) : SiText.Format(value, unit, 5);

    private static string Difference(double difference, HandStep step)
    {
        double relative = step.Result == 0 ? double.PositiveInfinity : Math.Abs(difference / step.Result);
        if (Math.Abs(difference) < 1e-9 || relative < 1e-9)
            return "0";
        string text = SiText.Format(difference, step.Unit, 3);
        return difference > 0 ? "+" + text : text;
    }

    private static Table Lines(StageExplanation stage)
    {
        bool expects = stage.Lines.All(l => l.ExpectedVolts is not null);
        return Blocks.Table([ExplainWords.Input(stage), "ideal", .. expects ? ["real, by hand"] : Array.Empty<string>(), "simulated", "less ideal"], [0, 1, 2, 3, 4],
            stage.Lines.Select(l => (string[])
            [
                Blocks.Volts(l.InputVolts), Blocks.Volts(l.IdealVolts), .. expects ? [Blocks.Volts(l.ExpectedVolts!.Value)] : Array.Empty<string>(),
                Blocks.Volts(l.SimulatedVolts), Blocks.Volts(l.DifferenceVolts),
            ]));
    }

    private static Table Mapping(MappingResult m)
    {
        bool converts = m.Points[0].Code >= 0;
        return Blocks.Table([m.Sensor, "ideal", "pin " + m.Pin, .. converts ? ["code"] : Array.Empty<string>(), converts ? "error (counts)" : "error (mV)"], [0, 1, 2, 3, 4],
            m.Points.Select(p => (string[])
            [
                Blocks.Volts(p.SensorVolts), Blocks.Volts(p.IdealVolts), Blocks.Volts(p.PinVolts),
                .. converts ? [p.Code.ToString("0")] : Array.Empty<string>(), SiText.Signed(p.ErrorCounts),
            ]));
    }
}
