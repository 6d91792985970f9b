using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Reporting.Pages;

/// <summary>How a pin follows, as panels: both steps against time, and the response against frequency.</summary>
public static class RespondPicture
{
    private const int Points = 600;

    /// <summary>Step up, step down, gain against frequency.</summary>
    public static ImmutableArray<Panel> Panels(RespondResult r) =>
    [
        Step($"Sensor {r.Sensor} stepping up its span", r, r.Up), Step("Stepping down", r, r.Down),
        Frequency(r),
        .. r.Rows.IsEmpty ? Array.Empty<Panel>() : [Rows(r)],
    ];

    /// <summary>The error of sample after sample, at the end of the span where it is larger.</summary>
    private static Panel Rows(RespondResult r)
    {
        double count = 2 * r.HalfCountVolts;
        Curve Of(bool keeps)
        {
            var row = r.Rows.Where(s => s.KeepsCharge == keeps).MaxBy(s => Math.Abs(s.ErrorVolts[^1]))!;
            return new(keeps ? "read alone" : "in turn with another channel", [.. row.ErrorVolts.Select((_, k) => k + 1.0)],
                [.. row.ErrorVolts.Select(e => e / count)],
                keeps ? CurveLook.Simulated : CurveLook.Ideal);
        }
        return new($"Samples in a row at {SiText.Format(r.Frequency.SampleHertz!.Value, "Hz")}",
            new("sample", ""), new("error (counts)", ""), [Of(false), Of(true)])
        { Share = 0.8 };
    }

    private static Panel Step(string title, RespondResult r, StepResponse s)
    {
        double end = s.StepAt + (double.IsFinite(s.SettlingSeconds) && s.SettlingSeconds > 0
            ? 1.3 * s.SettlingSeconds : s.Trace.End - s.StepAt);
        ImmutableArray<double> times = [.. Enumerable.Range(0, Points + 1).Select(k => Math.Min(s.Trace.End, end) * k / Points)];
        ImmutableArray<double> target = [.. times.Select(_ => s.ToVolts)];
        return new Panel(title, new("time", "s"), new("pin " + r.Pin, "V"),
            [new("simulated", times, [.. s.Trace.Sample(times)], CurveLook.Simulated), new("settled", times, target, CurveLook.Ideal)])
        {
            Notes = double.IsFinite(s.SettlingSeconds)
                ? [new($"within half a count after {SiText.Format(s.SettlingSeconds, "s", 3)}", s.StepAt
                    + s.SettlingSeconds, s.Trace.At(s.StepAt + s.SettlingSeconds))]
                : [],
            Share = 0.8,
        };
    }

    private static Panel Frequency(RespondResult r)
    {
        // From two decades below the corner to where nothing is left to see.
        double corner = double.IsFinite(r.Frequency.CornerHertz) ? r.Frequency.CornerHertz : r.Frequency.Points[^1].Hertz;
        FrequencyPoint[] shown = [.. r.Frequency.Points.Where(p =>
            p.Hertz >= corner / 100 && (p.Hertz <= corner * 10 || p.Decibels > -100))];
        var notes = ImmutableArray.CreateBuilder<Note>();
        if (double.IsFinite(r.Frequency.CornerHertz))
            notes.Add(new($"corner {SiText.Format(corner, "Hz")}", corner, -20 * Math.Log10(Math.Sqrt(2))));
        if (r.Frequency is { SampleHertz: { } rate, HalfRateAttenuation: { } loss } && rate / 2 >= shown[0].Hertz
            && rate / 2 <= shown[^1].Hertz)
            notes.Add(new($"half the sampling rate: {SiText.Plain(-loss, "dB", 3)}", rate / 2, -loss));
        return new Panel("Response to small signals, sensor at mid-span", new("frequency", "Hz") { IsLogarithmic = true },
            new("gain over DC gain", "dB"),
            [new("", [.. shown.Select(p => p.Hertz)], [.. shown.Select(p => p.Decibels)], CurveLook.Simulated)])
        {
            Notes = notes.ToImmutable(),
        };
    }
}
