using SkiaSharp;

namespace FrontEndSim.Reporting.Plots;

/// <summary>The font of a picture's words: one that is installed, since none comes with this program.</summary>
internal static class PlotFont
{
    private static readonly string[] Preferred = ["DejaVu Sans", "Liberation Sans", "Noto Sans", "Segoe UI", "Arial", "Helvetica"];

    /// <summary>The name of an installed font, a plain one if there is one.</summary>
    /// <exception cref="NoFontException">No font is installed.</exception>
    public static string Find()
    {
        string[] installed = [.. SKFontManager.Default.FontFamilies];
        return Preferred.FirstOrDefault(installed.Contains) ?? installed.FirstOrDefault() ?? throw new NoFontException();
    }
}

/// <summary>A picture was asked for on a machine without fonts.</summary>
public sealed class NoFontException()
    : Exception("This machine has no fonts, so a picture would have no words. Install one (on Debian: apt install fonts-dejavu-core) and try again.");
