using System.Xml.Linq;
using ScottPlot;
using SkiaSharp;

namespace FrontEndSim.Reporting.Plots;

/// <summary>A picture is panels one above the other, as the bytes of a file.</summary>
public static class PlotImage
{
    private const int Width = 1400;
    private const int PanelHeight = 560;
    private const float Scale = 1.5f;

    /// <summary>The kinds of file that can be written, by their ending.</summary>
    public static IReadOnlyList<string> Endings { get; } = [".png", ".svg"];

    /// <summary>Whether a file of this name is of a kind that can be written.</summary>
    public static bool Handles(string file) => Endings.Contains(Path.GetExtension(file).ToLowerInvariant());

    /// <summary>Draws panels one above the other, all as wide, as high as their shares.</summary>
    /// <param name="panels">At least one.</param>
    /// <param name="ending">".png" or ".svg".</param>
    /// <param name="cancel">Stops between panels.</param>
    /// <returns>The bytes of the file.</returns>
    /// <exception cref="NoFontException">This machine has no font that the picture's words could be written with.</exception>
    /// <exception cref="ArgumentException">The ending is neither of the two, or there are no panels.</exception>
    public static byte[] Render(IReadOnlyList<Panel> panels, string ending, CancellationToken cancel = default)
    {
        ArgumentOutOfRangeException.ThrowIfZero(panels.Count, nameof(panels));
        string font = PlotFont.Find();
        int[] heights = [.. panels.Select(p => (int)Math.Round(PanelHeight * p.Share))];
        using var file = new MemoryStream();
        switch (ending.ToLowerInvariant())
        {
            case ".png":
                using (var surface = SKSurface.Create(new SKImageInfo(Width, heights.Sum())))
                {
                    Draw(panels, heights, font, surface.Canvas, cancel);
                    using var image = surface.Snapshot();
                    using var png = image.Encode(SKEncodedImageFormat.Png, 100);
                    png.SaveTo(file);
                }
                break;
            case ".svg":
                using (var canvas = SKSvgCanvas.Create(new SKRect(0, 0, Width, heights.Sum()), file))
                    Draw(panels, heights, font, canvas, cancel);
                return Tidied(file.ToArray());
            default:
                throw new ArgumentException($"A picture ends in .png or .svg, not in '{ending}'.", nameof(ending));
        }
        return file.ToArray();
    }

    /// <summary>The canvas writes words among white space and lists of positions with a comma too many, which not every viewer
    /// forgives.</summary>
    private static byte[] Tidied(byte[] svg)
    {
        var picture = XDocument.Load(new MemoryStream(svg));
        foreach (var text in picture.Descendants().Where(e => e.Name.LocalName == "text"))
        {
            text.Value = text.Value.Trim();
            foreach (var list in text.Attributes().Where(a => a.Name.LocalName is "x" or "y"))
                list.Value = list.Value.TrimEnd(',', ' ');
        }
        using var file = new MemoryStream();
        picture.Save(file);
        return file.ToArray();
    }

    private static void Draw(IReadOnlyList<Panel> panels, int[] heights, string font, SKCanvas canvas, CancellationToken cancel)
    {
        float top = 0;
        for (int k = 0; k < panels.Count; k++)
        {
            cancel.ThrowIfCancellationRequested();
            // The library clears all that it may draw on and leaves its scale behind, so each panel gets a canvas state of its own.
            canvas.Save();
            canvas.ClipRect(new SKRect(0, top, Width, top + heights[k]));
            canvas.Translate(0, top);
            canvas.Scale(Scale);
            using var plot = PanelDrawing.Draw(panels[k], font);
            // A first rendering finds the room that the labels need and is drawn over; only the second should be in the file.
            plot.RenderInMemory((int)(Width / Scale), (int)(heights[k] / Scale));
            cancel.ThrowIfCancellationRequested();
            plot.Render(canvas, new PixelRect(0, Width / Scale, heights[k] / Scale, 0));
            canvas.Restore();
            top += heights[k];
        }
    }
}
