using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Html;

/// <summary>The hand calculation of each stage that has one, in the order in which a person would write it, with the simulation beside it.</summary>
internal static class HandMathSection
{
    public static XElement? Of(ReportInput input)
    {
        StageExplanation[] stages = [.. input.Explained?.Stages.Where(s => !s.Steps.IsEmpty) ?? []];
        return stages.Length == 0 ? null : Tag.Section("hand", "Hand calculation",
            Tag.Paragraph("Each line as a person would write it, and what the simulation of the whole circuit makes of the same quantity. A line without a simulated value is a choice."),
            stages.Select(One));
    }

    private static XElement One(StageExplanation stage) => new("div", new XAttribute("class", "block"),
        new XElement("h3", $"Stage {stage.Stage.Name}: {stage.Stage.Kind}"),
        Tag.Table($"Stage {stage.Stage.Name} by hand and by simulation", ["what", "formula", "with numbers", "by hand", "simulated", "difference"],
            stage.Steps.Select(s => new object[]
            {
                s.Step.What, s.Step.Formula, s.Step.Substitution, SiText.Format(s.Step.Result, s.Step.Unit, 5),
                s.Simulated is { } simulated ? SiText.Format(simulated, s.Step.Unit, 5) : "",
                s.Difference is { } difference ? Difference(difference, s.Step) : "",
            })),
        stage.Steps.All(s => s.Causes.IsEmpty) ? null : new XElement("ul", stage.Steps.Where(s => !s.Causes.IsEmpty).Select(s => new XElement("li", $"{s.Step.What}: {ExplainWords.Why(s)}"))),
        stage.Furthest is null ? null : Tag.Paragraph(ExplainWords.Reason(stage)),
        stage.Lines.IsEmpty ? null : Lines(stage));

    private static XElement Lines(StageExplanation stage)
    {
        bool expects = stage.Lines.All(l => l.ExpectedVolts is not null);
        return Tag.Table($"Output of stage {stage.Stage.Name} at round values of the input", [ExplainWords.Input(stage), "ideal", .. expects ? ["real op amps, by hand"] : (string[])[], "simulated", "less ideal"],
            stage.Lines.Select(l => (object[])
            [
                SiText.Format(l.InputVolts, "V", 5), SiText.Format(l.IdealVolts, "V", 5), .. expects ? [SiText.Format(l.ExpectedVolts!.Value, "V", 5)] : (object[])[],
                SiText.Format(l.SimulatedVolts, "V", 5), SiText.Format(l.DifferenceVolts, "V", 3),
            ]));
    }

    private static string Difference(double difference, HandStep step)
    {
        // What is left of rounding is no difference.
        if (Math.Abs(difference) < 1e-9 * Math.Max(1, Math.Abs(step.Result)))
            return "0";
        string share = step.Result == 0 ? "" : $" ({SiText.Format(difference / Math.Abs(step.Result), "%", 2)})";
        return (difference > 0 ? "+" : "") + SiText.Format(difference, step.Unit, 3) + share;
    }
}
