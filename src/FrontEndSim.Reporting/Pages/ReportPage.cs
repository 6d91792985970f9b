using System.Security.Cryptography;
using System.Text;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Report;
using FrontEndSim.Language.Text;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>What a report was computed from and by, beside the results.</summary>
/// <param name="FrontEnd">The front end.</param>
/// <param name="Files">The circuit file and those that it includes, itself first.</param>
/// <param name="Version">Version of the program.</param>
/// <param name="Settings">Settings of the solver.</param>
public sealed record ReportOrigin(FrontEnd FrontEnd, ImmutableArray<ReportFile> Files, string Version, SolverSettings Settings);

/// <summary>A file that a report was computed from.</summary>
/// <param name="Name">Its name, without its directory.</param>
/// <param name="Text">Its text.</param>
public sealed record ReportFile(string Name, string Text);

/// <summary>All of it on one page: verdict, drawings, tables, cautions and how it was computed.</summary>
public static class ReportPage
{
    /// <summary>The page.</summary>
    public static Page Of(ReportResult r, ReportOrigin origin) => new(r.Check.Title == "" ? origin.Files[0].Name : r.Check.Title,
        [
            new Section("verdict", "Verdict", CheckPage.Verdict(r.Check)),
            .. Section("schematic", "Schematic", SchematicBlocks.Of(origin.FrontEnd, r.Bias)),
            .. Section("mapping", "Mapping", [.. r.Check.Mappings.Select((m, k) => Mapping(r, m, origin.FrontEnd, k))]),
            .. Section("logic", "Logic levels",
                [.. r.Check.Logic.Select((l, k) => LogicBlocks.Section(l, $"{k}"))]),
            .. Section("budget", "Error budget", [.. r.Budgets.Select(BudgetPage.Section)]),
            .. Section("events", "Events", r.Check.Events.IsEmpty ? [] :
                [
                    EventsPage.Summary(r.Check.Events, details: true),
                    .. r.Check.Events.Select((e, k) => new Section($"{k}", e.Event.Name,
                        [new Paragraph($"At node {e.Event.Node}: {e.Event.Disturbance.Text}."), .. EventsPage.Blocks(e)])),
                ]),
            .. Section("faults", "Single faults", r.Faults is not { Faults.IsEmpty: false } faults ? [] : FaultsPage.Blocks(faults)),
            .. Section("response", "Response",
                [.. r.Responses.Select((x, k) =>
                    new Section($"{k}", $"Sensor {x.Sensor} to pin {x.Pin}", RespondPage.Blocks(origin.FrontEnd.FindPin(x.Pin), x)))]),
            .. Section("hand", "Hand calculation", r.Explained is null || r.Explained.Stages.All(s => s.Steps.IsEmpty) ? [] :
                [
                    new Paragraph("Each line as a person would write it, and what the simulation of the whole circuit makes of the same "
                        + "quantity. A line without a simulated value is a choice."),
                    .. ExplainPage.Stages(r.Explained),
                ]),
            new Section("operating-point", "Operating point", BiasPage.Of(r.Bias).Blocks),
            .. Section("parts", "Parts list", r.Build.Parts.IsEmpty ? [] : [BuildPage.Parts(r.Build)]),
            new Section("bench", "At the bench", [.. BuildPage.Bench(r.Build)]),
            new Section("cautions", "Cautions", [new Cautions([.. BuildWords.Cautions(r.Build), .. General])]),
            new Section("computed", "How it was computed", Computed(r, origin)),
        ]);

    private static readonly string[] General =
    [
        "This is a simulation of typical parts. It certifies nothing: what protects people or a vehicle is proven on real hardware, under "
            + "the rules that hold where you are, "
            + "by those who are licensed to.",
        "Not simulated: layout, stray inductance and capacitance but in discharges and bursts, heating of one part by another, ageing, "
            + "moisture, and what radio does to an op amp's inputs.",
    ];

    private static IEnumerable<Block> Section(string id, string heading, ImmutableArray<Block> blocks) =>
        blocks.IsEmpty ? [] : [new Section(id, heading, blocks)];

    private static Section Mapping(ReportResult r, MappingResult m, FrontEnd frontEnd, int number)
    {
        string unit = MappingWords.Unit(m);
        var costs = r.Check.Costs.FirstOrDefault(c => c.Pin == m.Pin && c.Sensor == m.Sensor);
        return new($"{number}", $"Sensor {m.Sensor} onto pin {m.Pin}",
        [
            new Pictures(MappingPicture.Panels(m, frontEnd.FindPin(m.Pin))),
            new Facts(
            [
                new("largest error", $"{Figures.Error(m.Worst.ErrorCounts, unit)} at {Figures.Of(m.Worst.SensorValue, m.SensorUnit)}"),
                new("offset error", Figures.Error(m.OffsetErrorCounts, unit)),
                    new("gain error", $"{Figures.Error(m.GainErrorCounts, unit)} ({Figures.Percent(m.GainError, 3)})"),
                new("nonlinearity (INL)", Figures.Error(m.NonlinearityCounts, unit)), new("one count", Figures.Volts(m.CountVolts)),
            ]),
            MappingWords.Readings(m, MappingWords.Typical(m), "Readings across the span"),
            .. costs is null or { Parts.IsEmpty: true } ? [] : new[] { ExplainPage.Costs(costs) },
            MappingWords.Headroom(m.Headroom, "Headroom of the op amps over the span"),
        ]);
    }

    private static ImmutableArray<Block> Computed(ReportResult r, ReportOrigin origin)
    {
        var audits = r.Check.Mappings.Select(m => ($"mapping onto {m.Pin}", m.Audit))
            .Concat(r.Check.Events.Select(e => (e.Event.Name, e.Audit)))
            .Concat(r.Responses.SelectMany(x =>
                new[] { ($"step up, pin {x.Pin}", x.Up.Run.Audit), ($"step down, pin {x.Pin}", x.Down.Run.Audit) }))
            .Prepend(("operating point", r.Bias.Audit));
        return
        [
            new Facts(
            [
                new("program", "frontendsim " + origin.Version),
                    new("temperature of the parts", Figures.Plain(origin.FrontEnd.Celsius, "°C")),
                new("error allowed in a time step", $"{Figures.Plain(origin.Settings.Accuracy, "")} of the largest voltage, plus "
                    + $"{Figures.Volts(origin.Settings.AbsoluteVolts)}"),
                new("method in time", Method(origin.Settings.Method)),
            ]),
            new Sentences([.. r.LeftOut.Select(l => $"No {Of(l)}: {ProblemWords.Of(l.Problem)}")]),
            new Table("Audit: how well each solution satisfies its own equations",
                [
                    new("solution"), new("residual current (KCL)", ColumnKind.Number, "A") { Digits = 2 },
                        new("of the largest", ColumnKind.Number, "%") { Digits = 2 }, new("at"),
                    new("energy not accounted for", ColumnKind.Number, "%") { Digits = 2 },
                        new("steps taken", ColumnKind.Plain) { Digits = 10 },
                    new("steps refused", ColumnKind.Plain) { Digits = 10 }, new("Newton iterations", ColumnKind.Plain) { Digits = 10 },
                ],
                [
                    .. audits.Select(a => (ImmutableArray<Cell>)
                    [
                        a.Item1, a.Item2.KirchhoffAmps, a.Item2.KirchhoffShare, a.Item2.KirchhoffNode, a.Item2.StepsTaken > 0
                            ? a.Item2.EnergyImbalance : "",
                        (double)a.Item2.StepsTaken, (double)a.Item2.StepsRefused, (double)a.Item2.NewtonIterations,
                    ]),
                ]),
            .. origin.Files.Select((f, k) => new Section($"file{k}", $"The file {f.Name}",
                [new Paragraph("SHA-256 " + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(f.Text)))),
                    new Listing("The file " + f.Name, f.Text)])),
        ];
    }

    private static string Of(LeftOut l) => l.Kind switch
    {
        LeftOutKind.HandCalculation => "hand calculation",
        LeftOutKind.Budget => $"error budget of sensor {l.Sensor} onto pin {l.Pin}",
        _ => $"response of pin {l.Pin}",
    };

    private static string Method(TimeMethod method) => method switch
    {
        TimeMethod.SecondOrder => "TR-BDF2, order 2",
        TimeMethod.ThirdOrder => "implicit Runge-Kutta, order 3",
        _ => "implicit Runge-Kutta, order 4",
    };
}
