using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Respond;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>How fast a pin follows, in lines; then what each sample takes.</summary>
internal static class RespondScreen
{
    /// <summary>Logic levels and changes, if the pin reads logic; steps, frequencies, samples.</summary>
    public static IEnumerable<IRenderable> Of(string title, Pin pin, RespondResult r, LogicResult? logic)
    {
        yield return Blocks.Title(title);
        foreach (var block in logic is null ? [] : LogicScreen.Of(logic))
            yield return block;
        string half = pin.Converter is null ? "half a millivolt" : $"half a count ({SiText.Format(r.HalfCountVolts, "V", 3)})";
        yield return Blocks.Title($"Sensor {r.Sensor} stepping over its span, pin {r.Pin}");
        yield return Blocks.Table(["step", "from", "to", "10 % to 90 %", "overshoot", "settles to " + half], [1, 2, 3, 4, 5],
            [Row("up", r.Up), Row("down", r.Down)]);
        yield return Blocks.Blank;
        yield return Blocks.Margin([.. Frequency(r, half, pin.Converter is null ? "mV" : "counts")]);
        yield return Blocks.Blank;
        if (!r.Sampling.IsEmpty)
        {
            var sampling = pin.Sampling!;
            double count = 2 * r.HalfCountVolts;
            yield return Blocks.Title($"Sampling capacitor {SiText.Format(sampling.Farads, "F")} through {SiText.Format(sampling.Ohms, "ohm")} "
                + $"for {SiText.Format(sampling.Seconds, "s")}, pin at rest before");
            yield return Blocks.Table([r.Sensor, "pin", "held before", "read", "error (counts)", "time that would do"], [0, 1, 2, 3, 4, 5],
                r.Sampling.Select(s => (string[])[Blocks.Volts(s.SensorVolts), Blocks.Volts(s.RestVolts), Blocks.Volts(s.StartVolts), Blocks.Volts(s.HeldVolts),
                    SiText.Signed(s.ErrorVolts / count), Time(s.LongEnoughSeconds, sampling.Seconds)]));
            yield return Blocks.Blank;
            yield return Blocks.Margin([(Blocks.Word("Samples"), new Text(Verdict(r, sampling)))]);
            yield return Blocks.Blank;
            if (r.Frequency.SampleHertz is { } rate && !r.Rows.IsEmpty)
            {
                yield return Blocks.Title($"Samples in a row at {SiText.Format(rate, "Hz")}: error of each (counts)");
                yield return Blocks.Table([r.Sensor, "held before", "charge", .. r.Rows[0].HeldVolts.Select((_, k) => $"{k + 1}.")],
                    [0, 1, .. Enumerable.Range(3, r.Rows[0].HeldVolts.Length)],
                    r.Rows.Select(row => (string[])[Blocks.Volts(row.SensorVolts), Blocks.Volts(row.StartVolts), row.KeepsCharge ? "kept" : "renewed",
                        .. row.ErrorVolts.Select(e => SiText.Plain(Math.Round(e / count, 3), "", 2))]));
                yield return Blocks.Blank;
                yield return Blocks.Margin([(Blocks.Word("In a row"), new Text(InARow(r)))]);
            }
            else
                yield return Blocks.Margin([(Blocks.Word("In a row"), new Text("--rate shows several samples in a row."))]);
            yield return Blocks.Blank;
        }
        yield return Blocks.Margin([(Blocks.Word("Audit"), new Text(Blocks.Audit(
            Math.Max(r.Up.Run.Audit.KirchhoffShare, r.Down.Run.Audit.KirchhoffShare), null, r.Up.Run.Audit.StepsTaken + r.Down.Run.Audit.StepsTaken)))]);
    }

    private static string[] Row(string word, StepResponse s) =>
    [
        word, Blocks.Volts(s.FromVolts), Blocks.Volts(s.ToVolts), SiText.Format(s.RiseSeconds, "s", 3),
        s.Overshoot < 1e-5 ? "none" : SiText.Format(s.Overshoot, "%", 2), SiText.Format(s.SettlingSeconds, "s", 3),
    ];

    private static IEnumerable<(IRenderable, IRenderable)> Frequency(RespondResult r, string half, string unit)
    {
        var f = r.Frequency;
        yield return (Blocks.Word("Gain"), new Text($"{SiText.Plain(f.Gain, "V/V")} at rest, sensor at mid-span."));
        yield return (Blocks.Word("Corner"), new Text(double.IsInfinity(f.CornerHertz) ? $"None up to {SiText.Format(f.Points[^1].Hertz, "Hz")}."
            : $"{SiText.Format(f.CornerHertz, "Hz")}: there the gain is down by √2 (3.01 dB)."));
        if (f is { SampleHertz: { } rate, HalfRateAttenuation: { } loss })
        {
            yield return (Blocks.Word("Aliasing"), new Text($"At {SiText.Format(rate / 2, "Hz")}, half of {SiText.Format(rate, "Hz")}, signals are down by {SiText.Plain(loss, "dB", 3)}: "
                + $"of {SiText.Format(1, "V")} at the sensor {SiText.Format(Math.Abs(f.Gain) * Math.Pow(10, -loss / 20), "V", 3)} reaches the pin and cannot be told from a slow signal."));
        }
        var noisy = r.Noise.Parts.TakeWhile(p => p.RmsVolts > 0.1 * r.Noise.RmsVolts).Take(3).Select(p => $"{SiText.Format(p.RmsVolts, "V", 2)} from {p.Part}");
        yield return (Blocks.Word("Noise"), new Text($"{SiText.Format(r.Noise.RmsVolts, "V", 3)} rms in one reading, {SiText.Plain(r.Noise.RmsVolts / (2 * r.HalfCountVolts), unit, 2)}"
            + $"{(r.Noise.Parts.IsEmpty ? "" : ": " + string.Join(", ", noisy))}."));
        double settling = r.SettlingSeconds;
        if (double.IsFinite(settling) && settling > 0)
            yield return (Blocks.Word("Switching"), new Text($"A change over the whole span is followed to {half} {SiText.Format(settling, "s", 3)} later."));
    }

    private static string Time(double seconds, double given) =>
        double.IsInfinity(seconds) ? $"over {SiText.Format(given * SamplingStudy.LongestFactor, "s", 3)}" : SiText.Format(seconds, "s", 3);

    private static string InARow(RespondResult r)
    {
        var kept = r.Rows.Where(row => row.KeepsCharge).ToArray();
        int settled = kept.Max(row => row.ErrorVolts.Select((e, k) => Math.Abs(e) > r.HalfCountVolts ? k + 1 : 0).Max());
        int all = kept[0].HeldVolts.Length;
        double left = r.Rows.Where(row => !row.KeepsCharge).Max(row => Math.Abs(row.ErrorVolts[^1])) / (2 * r.HalfCountVolts);
        string alone = settled == 0 ? "Read alone, every sample is within half a count."
            : settled < all ? $"Read alone, the pin is within half a count from sample {settled + 1} on: drop the {(settled == 1 ? "first" : $"first {settled}")} after another channel."
            : $"Read alone, the pin is not within half a count after {all} samples.";
        return $"{alone} Read in turn with another channel at the far end of the range, {SiText.Plain(left, "counts", 2)} are left after {all} samples"
            + (left <= 0.5 ? "." : ": sample less often, longer, or from a lower resistance.");
    }

    private static string Verdict(RespondResult r, Sampling sampling)
    {
        var worst = r.Sampling.MaxBy(s => Math.Abs(s.ErrorVolts))!;
        double counts = worst.ErrorVolts / (2 * r.HalfCountVolts);
        if (Math.Abs(counts) <= 0.5)
            return $"The capacitor settles to half a count in {SiText.Format(sampling.Seconds, "s")}, whatever it held before.";
        double longest = r.Sampling.Max(s => s.LongEnoughSeconds);
        return $"The capacitor does not settle: {SiText.Plain(counts, "counts", 3)} are left when it held {Blocks.Volts(worst.StartVolts)} before. "
            + $"Connect it for {Time(longest, sampling.Seconds)}, lower the resistance ahead of the pin, or put a capacitor at the pin of more than "
            + $"{SiText.Format(sampling.Farads * Math.Max(Math.Abs(worst.StartVolts - worst.RestVolts), 1e-12) / r.HalfCountVolts, "F", 2)}, "
            + "which holds its voltage within half a count by sharing charge (and then allow it time to recover between samples).";
    }
}
