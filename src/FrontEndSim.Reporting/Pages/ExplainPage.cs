using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>Each stage as a person calculates it, line by line, with the simulated value beside it; then input against output.</summary>
public static class ExplainPage
{
    // Digits that show both values and still fit a screen; the difference between the two needs them.
    private const int Digits = 6;

    /// <summary>The page.</summary>
    /// <param name="title">Title of the front end.</param>
    /// <param name="explained">Hand calculation beside simulation.</param>
    public static Page Of(string title, ExplainResult explained) => new(title,
        [
            .. Hand(explained),
            .. explained.Mappings.Select((m, k) =>
                new Section($"mapping{k}", $"Sensor {m.Sensor} onto pin {m.Pin}, ideal and real", [MappingWords.Readings(m, m.Points)])),
            .. explained.Costs.Where(c => !c.Parts.IsEmpty)
                .Select((c, k) => new Section($"cost{k}", $"What the protection of pin {c.Pin} costs", [Costs(c)])),
        ])
    {
        Data = new Table("",
            [
                new("stage"), new("input", ColumnKind.Number, "V"), new("ideal", ColumnKind.Number, "V"),
                    new("expected", ColumnKind.Number, "V"), new("simulated", ColumnKind.Number, "V"),
            ],
            [.. explained.Stages.SelectMany(s => s.Lines.Select(l =>
                (ImmutableArray<Cell>)[s.Stage.Name, l.InputVolts, l.IdealVolts, l.ExpectedVolts, l.SimulatedVolts]))]),
    };

    /// <summary>A section for each stage, or that there is none to calculate.</summary>
    public static IEnumerable<Block> Hand(ExplainResult explained) => explained.Stages.IsEmpty
        ? [new Paragraph("No hand calculation: the circuit is drawn part by part, and formulas belong to stages "
            + "(docs/language.md lists them).")]
        : Stages(explained);

    /// <summary>A section for each stage.</summary>
    public static IEnumerable<Section> Stages(ExplainResult explained) =>
        explained.Stages.Select((s, k) => new Section($"stage{k}", $"{s.Stage.Name}: {s.Stage.Kind}",
        [
            .. s.Steps.IsEmpty ? [new Paragraph("No hand calculation: a stage of your own, or one without a formula.")]
                : new Block[] { Steps(s) },
            new Lines([.. s.Steps.Where(x => !x.Causes.IsEmpty).Select(x => new Line("Why", $"{x.Step.What}: {ExplainWords.Why(x)}"))]),
            Lines(s),
            new Lines(s.Furthest is null ? [] : [new("Why", ExplainWords.Reason(s))]),
        ]));

    /// <summary>What protection costs.</summary>
    public static Table Costs(ProtectionCosts costs) => new($"The reading with each part less the reading without it ({costs.Unit})",
        [new("part"), new($"at {Figures.Of(costs.Span.Low, costs.SensorUnit)}", ColumnKind.Signed),
            new($"at {Figures.Of(costs.Span.High, costs.SensorUnit)}", ColumnKind.Signed)],
        [
            .. costs.Parts.Select(p => (ImmutableArray<Cell>)
                [
                    $"{CostWords.Of(p)}, {(p.Role is null ? "its own clamps and leakage" : p.ValueText)}"
                        + (p.IsSeries ? " (what the others and the pin draw through it)" : ""),
                    p.LowCounts, p.HighCounts,
                ]),
        ]);

    private static Table Steps(StageExplanation stage) => new("",
        [
            new("formula, numbers"), new("by hand", ColumnKind.Number) { Digits = Digits },
                new("simulated", ColumnKind.Number) { Digits = Digits },
            new("difference", ColumnKind.Number) { Digits = 3 },
        ],
        [
            .. stage.Steps.Select(s => (ImmutableArray<Cell>)
            [
                $"{s.Step.What}: {s.Step.Formula}\n  = {Substituted(s.Step)}", Value(s.Step.Result, s.Step), s.Simulated is { } simulated
                    ? Value(simulated, s.Step) : "",
                s.Difference is { } difference ? Difference(difference, s.Step) : "",
            ]),
        ]);

    private static Cell Value(double value, HandStep step) => new() { Number = value, Unit = step.Unit };

    /// <summary>The numbers without the left side of the equation, which stands above.</summary>
    private static string Substituted(HandStep step)
    {
        int equals = step.Substitution.IndexOf(" = ", StringComparison.Ordinal);
        return equals < 0 ? step.Substitution : step.Substitution[(equals + 3)..];
    }

    private static string Difference(double difference, HandStep step)
    {
        // What is left of rounding is no difference.
        if (Math.Abs(difference) < 1e-9 * Math.Max(1, Math.Abs(step.Result)))
            return "0";
        return (difference > 0 ? "+" : "") + Figures.Of(difference, step.Unit, 3);
    }

    private static Table Lines(StageExplanation stage)
    {
        // Without an op amp there is nothing real about one.
        bool expects = !stage.Lines.IsEmpty && stage.Stage.Parts.Any(p => p.Amplifier is not null)
            && stage.Lines.All(l => l.ExpectedVolts is not null);
        return new($"Output of stage {stage.Stage.Name} at round values of the input",
            [
                new(ExplainWords.Input(stage), ColumnKind.Number, "V"), new("ideal", ColumnKind.Number, "V") { Digits = Digits },
                .. expects ? [new Column("real op amps, by hand", ColumnKind.Number, "V") { Digits = Digits }] : Array.Empty<Column>(),
                new("simulated", ColumnKind.Number, "V") { Digits = Digits },
                    new("simulated − ideal", ColumnKind.Number, "V") { Digits = 3 },
            ],
            [
                .. stage.Lines.Select(l => (ImmutableArray<Cell>)
                    [l.InputVolts, l.IdealVolts, .. expects ? [l.ExpectedVolts]
                        : Array.Empty<Cell>(), l.SimulatedVolts, l.DifferenceVolts]),
            ]);
    }
}
