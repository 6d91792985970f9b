using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Cli.Verbs;

/// <summary>--plot FILE: a picture beside the answer.</summary>
internal sealed class PlotOption : Option<string?>
{
    public PlotOption(string what) : base("--plot")
    {
        HelpName = "FILE";
        Description = $"Also draw {what}, as .png or .svg by the file's ending.";
    }

    /// <summary>Whether a picture is wanted.</summary>
    public bool IsWanted(ParseResult line) => line.GetValue(this) is not null;

    /// <summary>Throws before any work is done if the file could not be drawn.</summary>
    /// <exception cref="InputException">The file has another ending, or cannot be written where it is wanted.</exception>
    public void Check(ParseResult line)
    {
        if (line.GetValue(this) is not { } file)
            return;
        OutputFile.Check(file);
        if (!PlotImage.Handles(file))
            throw new InputException($"--plot: a picture ends in .png or .svg, but the file is named '{file}'");
    }

    /// <summary>Draws the plots of a page if a picture is wanted.</summary>
    public void Write(ParseResult line, Page page, CancellationToken cancel) => Write(line, [.. Panels(page.Blocks)], cancel);

    private static IEnumerable<Panel> Panels(IEnumerable<Block> blocks) =>
        blocks.SelectMany(b => b switch { Section s => Panels(s.Blocks), Pictures p => p.Panels, _ => [] });

    /// <summary>Draws the panels if a picture is wanted.</summary>
    public void Write(ParseResult line, IReadOnlyList<Panel> panels, CancellationToken cancel)
    {
        if (line.GetValue(this) is not { } file)
            return;
        if (panels.Count == 0)
            throw new InputException($"--plot: there is nothing to draw, so '{file}' was not written");
        OutputFile.Write(file, PlotImage.Render(panels, Path.GetExtension(file), cancel));
    }
}
