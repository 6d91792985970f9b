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

    public static TheoryData<string, Panel> Busy => new()
    {
        { "a mapping", Ramp },
        { "a long title", Ramp with { Title = string.Join(' ', Enumerable.Repeat("24 V of the valves on the probe's terminal", 6)) } },
        { "a title that just fits", Ramp with { Title = new string('M', 60) } },
        { "large numbers", new("1234567 ohm", new("frequency of the pick-up at the sensor", "Hz"),
            new("voltage of the pin after the filter", "V"),
            [new("simulated", [123456.789, 999999.123], [-1234.5678, 9876.54321], CurveLook.Simulated)]) },
        { "decades", new("response", new("frequency", "Hz") { IsLogarithmic = true }, new("gain", "dB"),
            [new("", [0.01, 1, 1e9], [0, -3, -190], CurveLook.Simulated)])
                { Notes = [new("corner 1 Hz", 1, -3), new("half the sampling rate: -90 dB", 1e9, -190)] } },
        { "next to nothing", new("rest", new("time", "s"), new("PIN", "V"),
            [new("at rest", [0, 1e-9], [1.65, 1.65 + 1e-15], CurveLook.Simulated)]) },
    };

    [Theory, MemberData(nameof(Busy))]
    public void No_word_of_a_picture_is_cut_off_or_lies_on_another(string what, Panel panel)
    {
        Assert.SkipUnless(PlotFont.IsInstalled, "This machine has no fonts.");
        var svg = XDocument.Load(new MemoryStream(PlotImage.Render([panel], ".svg"))).Root!;
        var boxes = svg.Descendants().Where(e => e.Name.LocalName == "text").Select(e => (e.Value, Box: BoxOf(e)))
            .Where(b => b.Value != "").ToArray();
        double width = Number(svg.Attribute("width")!.Value), height = Number(svg.Attribute("height")!.Value);
        Assert.True(boxes.Length > 5, what);
        for (int k = 0; k < boxes.Length; k++)
        {
            var (text, a) = boxes[k];
            Assert.True(a.Left >= 0 && a.Right <= width && a.Top >= 0 && a.Bottom <= height, $"{what}: '{text}' at {a}");
            Assert.All(boxes[(k + 1)..], b => Assert.False(a.Left < b.Box.Right && b.Box.Left < a.Right && a.Top < b.Box.Bottom
                && b.Box.Top < a.Bottom, $"{what}: '{text}' on '{b.Value}'"));
        }
    }

    /// <summary>The room of a text from where its characters stand; the last is taken for as wide as half its height.</summary>
    private static (double Left, double Top, double Right, double Bottom) BoxOf(XElement text)
    {
        double[] m = [.. text.Attribute("transform")!.Value["matrix(".Length..^1].Split(' ', ',').Where(w => w != "").Select(Number)];
        double size = Number(text.Attribute("font-size")!.Value), y = Number(text.Attribute("y")!.Value.Split(',')[0]);
        double[] x = [.. text.Attribute("x")!.Value.Split(',').Select(Number)];
        // Letters rise to about 0.75 of their size above the line; tails are left out, as nothing stands that close.
        var corners = new[] { (x.Min(), y - 0.75 * size),
            (x.Max() + size / 2, y) }.Select(c => (X: m[0] * c.Item1 + m[2] * c.Item2 + m[4], Y: m[1] * c.Item1 + m[3] * c.Item2 + m[5]))
                .ToArray();
        return (corners.Min(c => c.X), corners.Min(c => c.Y), corners.Max(c => c.X), corners.Max(c => c.Y));
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);

    [Fact]
    public void What_is_simulated_ideal_or_rated_is_told_apart_without_colour()
    {
        Assert.SkipUnless(PlotFont.IsInstalled, "This machine has no fonts.");
        using var plot = PanelDrawing.Draw(Ramp, "DejaVu Sans");
        var looks = plot.GetPlottables<ScottPlot.Plottables.Scatter>().Select(l => (l.LinePattern.Name, l.LineWidth)).Distinct().ToArray();
        // A curve, what it is held against, and the two edges of the band, which look alike.
        Assert.Equal(3, looks.Length);
        Assert.Equal(3, looks.Select(l => l.Name).Distinct().Count());
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
