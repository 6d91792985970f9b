using SkiaSharp;

namespace FrontEndSim.Reporting.Plots;

/// <summary>The font of a picture's words: one that is installed, since none comes with this program.</summary>
public static class PlotFont
{
    private static readonly string[] Preferred = ["DejaVu Sans", "Liberation Sans", "Noto Sans", "Segoe UI", "Arial", "Helvetica"];

    private static readonly Lazy<string?> Found = new(() => Preferred.Concat(SKFontManager.Default.FontFamilies).FirstOrDefault(CanWrite));

    /// <summary>Whether a font is installed, so that pictures can be drawn.</summary>
    public static bool IsInstalled => Found.Value is not null;

    /// <summary>The name of an installed font, a plain one if there is one.</summary>
    /// <exception cref="NoFontException">No font is installed.</exception>
    internal static string Find() => Found.Value ?? throw new NoFontException();

    /// <summary>Whether there is a font of exactly this name that can write a picture's words; a machine without fonts still names an
    /// empty one.</summary>
    private static bool CanWrite(string family)
    {
        using var face = SKFontManager.Default.MatchFamily(family);
        return face is not null && face.FamilyName == family && face.ContainsGlyphs("Volt 0123456789 µ-");
    }
}

/// <summary>A picture was asked for on a machine without fonts.</summary>
public sealed class NoFontException()
    : Exception("this machine has no fonts, so a picture would have no words; install one (on Debian: apt install fonts-dejavu-core) and "
        + "try again");
