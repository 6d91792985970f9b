using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Reporting.Tests;

public class LabelPlacesTests
{
    private static readonly PanelFrame Frame = new(0, 10, 0, 10, 400, 200, 7, 14);

    private static (double Left, double Top, double Right, double Bottom) Box(PlacedLabel label, PanelFrame frame)
    {
        double width = label.Text.Length * frame.CharacterWidth, x = frame.X(label.X) + label.Side * label.Aside, y = frame.Y(label.Y);
        double left = label.Side switch { > 0 => x, < 0 => x - width, _ => x - width / 2 }, top = label.Above
            ? y - label.Away - frame.LineHeight : y + label.Away;
        return (left, top, left + width, top + frame.LineHeight);
    }

    private static Curve Line(string label, double from, double to, CurveLook look = CurveLook.Simulated) =>
        new(label, [.. Enumerable.Range(0, 101).Select(k => k / 10.0)],
            [.. Enumerable.Range(0, 101).Select(k => from + (to - from) * k / 100)], look);

    public static TheoryData<string, Panel> Panels => new()
    {
        { "two notes at one place", new("", new("x", "V"), new("y", "V"), [Line("", 2, 8)])
            { Notes = [new("the first of the notes", 5, 5), new("the second of the notes", 5.2, 5.12)] } },
        { "notes in the corners", new("", new("x", "V"), new("y", "V"), [Line("", 0, 10)])
            { Notes = [new("lowest: 0 V at 0 V", 0, 0), new("highest: 10 V at 10 V", 10, 10)] } },
        { "curves that lie on each other", new("", new("x", "V"), new("y", "V"),
            [Line("simulated", 5, 5), Line("ideal", 5, 5, CurveLook.Ideal)]) { Notes = [new("within half a count after 422 µs", 7, 5)] } },
        {
            "a band that is thin", new("", new("x", "V"), new("y", "V"), [Line("simulated", 4, 6)])
            { Bands = [new([0, 10], new("rated to -0.3 V", [4.9, 4.9]), new("rated to VDD + 0.3 V = 3.6 V", [5.1, 5.1]))],
                Notes = [new("highest: 6 V at 10 V", 10, 6)] }
        },
    };

    [Theory, MemberData(nameof(Panels))]
    public void Words_stay_in_the_panel_and_off_one_another(string what, Panel panel)
    {
        var boxes = LabelPlaces.Find(panel, Frame).Select(l => Box(l, Frame)).ToArray();
        Assert.Equal(panel.Notes.Length + 2 * panel.Bands.Length + panel.Curves.Count(c => c.Label != ""), boxes.Length);
        for (int k = 0; k < boxes.Length; k++)
        {
            var a = boxes[k];
            Assert.True(a is { Left: >= 0, Top: >= 0, Right: <= 400, Bottom: <= 200 }, $"{what}: {a}");
            Assert.All(boxes[(k + 1)..], b => Assert.False(a.Left < b.Right && b.Left < a.Right && a.Top < b.Bottom
                && b.Top < a.Bottom, $"{what}: {a} on {b}"));
        }
    }

    [Fact]
    public void The_words_at_a_curve_are_nearer_to_it_than_to_any_other()
    {
        // Close together at the right, apart at the left.
        var panel = new Panel("", new("x", "V"), new("y", "V"), [Line("25 °C", 2, 8), Line("85 °C", 6, 8.3, CurveLook.Ideal)]);
        foreach (var label in LabelPlaces.Find(panel, Frame))
        {
            var box = Box(label, Frame);
            double x = (box.Left + box.Right) / 2 / 40, y = 10 - (box.Top + box.Bottom) / 2 / 20;
            double Off(Curve c) => Math.Abs(c.Y[0] + (c.Y[^1] - c.Y[0]) * x / 10 - y);
            Assert.Equal(label.Text, panel.Curves.MinBy(Off)!.Label);
        }
    }

    [Fact]
    public void Words_that_find_room_do_not_lie_on_a_curve()
    {
        var panel = new Panel("", new("x", "V"), new("y", "V"), [Line("", 9, 1)]) { Notes = [new("largest: 1 V at 10 V", 10, 1)] };
        var box = Box(Assert.Single(LabelPlaces.Find(panel, Frame)), Frame);
        // The line falls by 1.6 points a point: y = 20 + 160 x / 400, from the top.
        for (double x = box.Left; x <= box.Right; x++)
            Assert.False(20 + 0.4 * x is var y && y > box.Top && y < box.Bottom, $"crossed at {x}");
    }

    [Fact]
    public void A_note_at_a_trough_or_beside_a_restless_end_lies_on_no_curve()
    {
        double[] x = [.. Enumerable.Range(0, 101).Select(k => k / 10.0)];
        var frame = Frame with { Width = 620, Height = 118, CharacterWidth = 7.2, LineHeight = 18 };
        Curve trough = new("", [.. x], [.. x.Select(v => 4.5 + 3.5 * Math.Cos(0.9 * v - 1))], CurveLook.Simulated),
            restless = new("", [.. x], [.. x.Select((v, k) => 3 + 0.55 * v + k % 4)], CurveLook.Simulated);
        foreach (var (curve, at) in new[] { (trough, x.Length * 46 / 100), (restless, 99) })
        {
            var panel = new Panel("", new("x", "V"), new("y", "V"), [curve])
            { Notes = [new("largest: -0.193 °C at 184 °C", curve.X[at], curve.Y[at])] };
            var box = Box(Assert.Single(LabelPlaces.Find(panel, frame)), frame);
            Assert.DoesNotContain(curve.X.Zip(curve.Y), p => frame.X(p.First) is var right && right > box.Left && right < box.Right
                && frame.Y(p.Second) is var down && down > box.Top && down < box.Bottom);
        }
    }
}
