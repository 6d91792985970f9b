using System.Buffers.Binary;
using System.Xml.Linq;
using FrontEndSim.Reporting.Plots;
using SkiaSharp;

namespace FrontEndSim.Reporting.Tests;

public class PlotImageTests
{
    private static readonly Panel Ramp = new("Sensor probe to pin ADC", new("probe", "V"), new("pin ADC", "V"),
        [
            new("simulated", [-1.2e-3, 0, 1.8e-3], [0.01, 1.3, 3.28], CurveLook.Simulated),
            new("ideal", [-1.2e-3, 1.8e-3], [0, 3.3], CurveLook.Ideal),
        ])
    {
        Bands = [new([-1.2e-3, 1.8e-3], new("rated to -0.3 V", [-0.3, -0.3]), new("rated to 3.6 V", [3.6, 3.6]))],
        Notes = [new("highest 3.28 V", 1.8e-3, 3.28)],
    };

    [Fact]
    public void An_svg_picture_holds_each_label_as_text_and_the_axis_with_its_prefixed_unit()
    {
        Assert.SkipUnless(PlotFont.IsInstalled, "This machine has no fonts.");
        var svg = XDocument.Load(new MemoryStream(PlotImage.Render([Ramp], ".svg")));
        string[] texts = [.. svg.Descendants().Where(e => e.Name.LocalName == "text").Select(e => e.Value)];
        foreach (string label in new[]
                 {
                     "Sensor probe to pin ADC", "probe (mV)", "pin ADC (V)", "simulated", "ideal", "rated to 3.6 V", "rated to -0.3 V",
                     "highest 3.28 V",
                 })
            Assert.Contains(label, texts);
    }

    [Fact]
    public void A_png_picture_grows_in_height_with_its_panels()
    {
        Assert.SkipUnless(PlotFont.IsInstalled, "This machine has no fonts.");
        var one = Size(PlotImage.Render([Ramp], ".png"));
        var two = Size(PlotImage.Render([Ramp, Ramp with { Share = 0.5 }], ".png"));
        Assert.Equal((one.Width, one.Height * 3 / 2), two);
    }

    [Fact]
    public void A_second_panel_is_drawn_below_the_first_and_leaves_it_whole()
    {
        Assert.SkipUnless(PlotFont.IsInstalled, "This machine has no fonts.");
        using var one = SKBitmap.Decode(PlotImage.Render([Ramp], ".png"));
        using var two = SKBitmap.Decode(PlotImage.Render([Ramp, Ramp], ".png"));
        Assert.Equal(one.Pixels, two.Pixels.AsSpan(0, one.Pixels.Length).ToArray());
        Assert.Equal(one.Pixels, two.Pixels.AsSpan(one.Pixels.Length).ToArray());
    }

    [Fact]
    public void A_constant_trace_still_has_an_axis_of_some_height()
    {
        Assert.SkipUnless(PlotFont.IsInstalled, "This machine has no fonts.");
        var flat = new Panel("rest", new("time", "s"), new("PIN", "V"), [new("", [0, 1e-3], [1.65, 1.65], CurveLook.Simulated)]);
        Assert.NotEmpty(PlotImage.Render([flat], ".png"));
    }

    [Fact]
    public void Any_other_ending_is_refused() =>
        Assert.False(PlotImage.Handles("mapping.pdf") || PlotImage.Handles("mapping") || !PlotImage.Handles("MAPPING.PNG"));

    /// <summary>Width and height as the header says (PNG specification, ISO/IEC 15948, section 11.2.2).</summary>
    private static (int Width, int Height) Size(byte[] png)
    {
        Assert.Equal([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], png[..8]);
        return (BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)), BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20)));
    }
}
