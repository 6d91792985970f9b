using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>The blocks that screens are made of. Words carry the meaning; colour only repeats it.</summary>
internal static class Blocks
{
    private static readonly Style Bold = new(decoration: Decoration.Bold);

    public static IRenderable Blank => new Text("\n");

    public static IRenderable Title(string words) => new Text(words + "\n", Bold);

    public static Text Word(string words) => new(words, Bold);

    /// <summary>A requirement's or a pin's verdict as a sign and a word, in the columns of a margin.</summary>
    public static Text Verdict(bool met) => met ? new("+ met", new Style(Color.Green)) : new("- NOT MET", new Style(Color.Red, decoration: Decoration.Bold));

    /// <summary>The same of a requirement, of which it may be that nothing is known.</summary>
    public static Text Verdict(Verdict verdict) => verdict == FrontEnds.Studies.Check.Verdict.NotKnown ? new("? not known", new Style(Color.Yellow)) : Verdict(verdict == FrontEnds.Studies.Check.Verdict.Met);

    public static Text Warning(string words) => new(words, new Style(Color.Yellow));

    /// <summary>Lines with a word in a margin of ten columns and a text beside it that wraps.</summary>
    public static Grid Margin(IEnumerable<(IRenderable Word, IRenderable Beside)> lines)
    {
        var grid = new Grid();
        grid.AddColumn(new GridColumn().Width(9).NoWrap().PadLeft(0).PadRight(2));
        grid.AddColumn(new GridColumn().PadLeft(0).PadRight(0));
        foreach (var (word, beside) in lines)
            grid.AddRow(word, beside);
        return grid;
    }

    /// <summary>A table without lines; the columns named in <paramref name="numbers"/> stand to the right.</summary>
    public static Table Table(IReadOnlyList<string> header, IReadOnlyList<int> numbers, IEnumerable<IReadOnlyList<string>> rows) =>
        Table(header, numbers, rows.Select(r => r.Select(cell => (IRenderable)new Text(cell))));

    /// <summary>The same of cells of any kind.</summary>
    public static Table Table(IReadOnlyList<string> header, IReadOnlyList<int> numbers, IEnumerable<IEnumerable<IRenderable>> rows)
    {
        var table = new Table().NoBorder();
        for (int k = 0; k < header.Count; k++)
        {
            var column = new TableColumn(new Text(header[k], Bold)).PadLeft(0).PadRight(k + 1 < header.Count ? 2 : 0);
            if (numbers.Contains(k))
                column.RightAligned().NoWrap();
            table.AddColumn(column);
        }
        foreach (var row in rows)
            table.AddRow(row);
        return table;
    }

    /// <summary>How well solutions satisfy their equations.</summary>
    public static string Audit(double kirchhoffShare, double? energyImbalance, int? steps) =>
        $"Currents add up to 0 within {SiText.Format(kirchhoffShare, "%", 2)} of the largest"
        + (energyImbalance is { } energy ? $"; energy balances within {SiText.Format(energy, "%", 2)}" : "")
        + (steps is { } n ? $"; {n} time steps" : "") + ".";

    public static string Audit(Audit audit, bool transient) =>
        Audit(audit.KirchhoffShare, transient ? audit.EnergyImbalance : null, transient ? audit.StepsTaken : null);

    /// <summary>A voltage; below a nanovolt is nothing.</summary>
    public static string Volts(double value) => SiText.Format(Math.Abs(value) < 1e-9 ? 0 : value, "V");

    /// <summary>How near an op amp comes to its limits.</summary>
    public static string Headroom(OpAmpHeadroom h) =>
        $"{h.OpAmp}: output {Volts(h.SwingVolts)} from its {h.SwingSide} limit, inputs {Volts(h.CommonModeVolts)} from their {h.CommonModeSide} limit, "
        + $"{SiText.Format(h.OutputAmps, "A", 3)} of {SiText.Format(h.OutputLimitAmps, "A", 3)}";
}
