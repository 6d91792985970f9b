using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>How fast a pin follows its sensor, and what each sample takes; of a logic pin also how it reads.</summary>
public static class RespondPage
{
    /// <summary>The page.</summary>
    /// <param name="title">Title of the front end.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="r">The response.</param>
    public static Page Of(string title, Pin pin, RespondResult r) => new(title,
        [
            .. r.Levels is { } levels ? [new Section("levels", LogicBlocks.Heading(levels), LogicBlocks.Of(levels))] : Array.Empty<Block>(),
            new Section("steps", $"Sensor {r.Sensor} stepping over its span, pin {r.Pin}", Blocks(pin, r)),
        ])
    {
        Data = new Table("", [new("frequency", ColumnKind.Number, "Hz"), new("gain", ColumnKind.Number, "dB"),
            new("phase", ColumnKind.Number, "degrees")],
            [.. r.Frequency.Points.Select(p => (ImmutableArray<Cell>)[p.Hertz, p.Decibels, p.Degrees])]),
    };

    /// <summary>The blocks of a response, without a logic pin's levels.</summary>
    public static ImmutableArray<Block> Blocks(Pin pin, RespondResult r)
    {
        string unit = pin.Converter is null ? "mV" : "counts";
        string half = pin.Converter is null ? "half a millivolt" : $"half a count ({Figures.Volts(r.HalfCountVolts, 3)})";
        return
        [
            new Table("",
                [
                    new("step"), new("from", ColumnKind.Number, "V"), new("to", ColumnKind.Number, "V"),
                        new("10 % to 90 %", ColumnKind.Number, "s") { Digits = 3 },
                    new("overshoot", ColumnKind.Number), new("settling to " + half, ColumnKind.Number, "s") { Digits = 3 },
                ],
                [Row("up", r.Up), Row("down", r.Down)]),
            new Lines([.. Frequency(r, half, unit)]),
            new Pictures(RespondPicture.Panels(r)),
            .. pin.Sampling is { } sampling && !r.Sampling.IsEmpty ? Samples(r, pin, sampling) : [],
            new Lines([AuditWords.Of(Math.Max(r.Up.Run.Audit.KirchhoffShare, r.Down.Run.Audit.KirchhoffShare),
                null, r.Up.Run.Audit.StepsTaken + r.Down.Run.Audit.StepsTaken)]),
        ];
    }

    private static ImmutableArray<Cell> Row(string word, StepResponse s) =>
        [word, s.FromVolts, s.ToVolts, Time(s.RiseSeconds), s.Overshoot < 1e-5 ? "none" : Figures.Percent(s.Overshoot, 2),
            Time(s.SettlingSeconds)];

    // A pin that a step leaves where its noise is has no such time.
    private static Cell Time(double seconds) => double.IsFinite(seconds) ? seconds : "not in the run";

    private static IEnumerable<Line> Frequency(RespondResult r, string half, string unit)
    {
        var f = r.Frequency;
        if (r.HasStates)
            yield break;
        yield return new("DC gain", $"{Figures.Plain(f.Gain, "V/" + r.SensorUnit)}, sensor at mid-span.");
        yield return new("Corner", double.IsInfinity(f.CornerHertz) ? $"None up to {Figures.Of(f.Points[^1].Hertz, "Hz")}."
            : $"{Figures.Of(f.CornerHertz, "Hz")}: there the gain is down by √2 (3.01 dB).");
        if (f is { SampleHertz: { } rate, HalfRateAttenuation: { } loss })
        {
            yield return new("Aliasing",
                $"At {Figures.Of(rate / 2, "Hz")}, half of {Figures.Of(rate, "Hz")}, signals are down by {Figures.Plain(loss, "dB", 3)}: "
                + $"of {Figures.Of(1, r.SensorUnit)} at the sensor {Figures.Volts(Math.Abs(f.Gain) * Math.Pow(10, -loss / 20), 3)} "
                    + $"reaches the pin and cannot be told from a slow signal.");
        }
        var noisy = r.Noise.Parts.TakeWhile(p => p.RmsVolts > 0.1 * r.Noise.RmsVolts).Take(3)
            .Select(p => $"{Figures.Volts(p.RmsVolts, 2)} from {p.Part}");
        yield return new("Noise",
            $"{Figures.Volts(r.Noise.RmsVolts, 3)} rms "
            + (unit == "counts" ? $"in one reading, {Figures.Plain(r.Noise.RmsVolts / (2 * r.HalfCountVolts), unit, 2)}" : "at the pin")
            + $"{(r.Noise.Parts.IsEmpty ? "" : ": " + string.Join(", ", noisy))}.");
        foreach (var h in r.Hum)
            yield return new("Hum", HumWords.Of(r.Pin, h));
        double settling = r.SettlingSeconds;
        if (double.IsFinite(settling) && settling > 0)
            yield return new("Settling", $"After a full-span change the pin settles to {half} in {Figures.Time(settling)}.");
    }

    private static IEnumerable<Line> Sources(SourceLimits s)
    {
        string change = $"from {Figures.Volts(s.StartVolts)} to {Figures.Volts(s.SourceVolts)}";
        yield return new("Source", $"The circuit drives the pin from {Figures.Of(s.PinOhms, "ohm")} at the operating point. "
            + $"In {Figures.Time(s.AcquisitionSeconds)} "
            + (s.LargestOhms == 0 ? $"no source settles {change}: the switch alone is too slow."
                : double.IsInfinity(s.LargestOhms) ? $"any source settles {change}."
                : $"a plain source of up to {Figures.Of(s.LargestOhms, "ohm")} settles to half a count {change}."));
        if (s is { SourceOhms: { } ohms, NeededSeconds: { } needed })
        {
            yield return new("Acquisition time", double.IsInfinity(needed)
                ? $"From {Figures.Of(ohms, "ohm")} it takes more than {Figures.Time(s.AcquisitionSeconds * SamplingStudy.LongestFactor)}."
                : $"From {Figures.Of(ohms, "ohm")} it takes {Figures.Time(needed)} to half a count {change}.");
        }
    }

    private static string Assumed(Pin pin) =>
        (pin.SameAs is { } own ? $"what pin {own} has to ground; "
            : pin.Farads == Pin.UsualFarads ? $"{Figures.Of(pin.Farads, "F")} from the pin to ground, typical of the class; "
            : $"{Figures.Of(pin.Farads, "F")} from the pin to ground, as the file says; ")
        + "beside it no capacitance but those of the parts in the file.";

    private static IEnumerable<Block> Samples(RespondResult r, Pin pin, Sampling sampling)
    {
        double count = 2 * r.HalfCountVolts;
        yield return new Table($"Sampling capacitor {Figures.Of(sampling.Farads, "F")} through {Figures.Of(sampling.Ohms, "ohm")} for "
            + $"{Figures.Time(sampling.Seconds)}, pin settled before",
            [
                new(r.Sensor, ColumnKind.Number, r.SensorUnit), new("pin", ColumnKind.Number, "V") { Digits = 5 },
                    new(r.Sampling[0].Before is { } before ? $"held after {before}" : "held before", ColumnKind.Number, "V"),
                new("read", ColumnKind.Number, "V") { Digits = 5 }, new("error", ColumnKind.Signed, "counts"),
                    new("acquisition time", ColumnKind.Number),
            ],
            [
                .. r.Sampling.Select(s => (ImmutableArray<Cell>)
                    [s.SensorValue, s.RestVolts, s.StartVolts, s.HeldVolts, s.ErrorVolts / count,
                        Acquisition(s.LongEnoughSeconds, sampling.Seconds)]),
            ]);
        yield return new Lines([new("Samples", Verdict(r, sampling)), .. r.Sources is { } sources ? Sources(sources) : [],
            new("Assumed", Assumed(pin))]);
        if (r.Frequency.SampleHertz is { } rate && !r.Rows.IsEmpty)
        {
            yield return new Table($"Samples in a row at {Figures.Of(rate, "Hz")}: error of each (counts)",
                [
                    new(r.Sensor, ColumnKind.Number, r.SensorUnit), new("held before", ColumnKind.Number, "V"), new("charge"),
                    .. r.Rows[0].HeldVolts.Select((_, k) => new Column($"{k + 1}.", ColumnKind.Plain) { Digits = 2 }),
                ],
                [
                    .. r.Rows.Select(row => (ImmutableArray<Cell>)
                        [row.SensorValue, row.StartVolts, row.KeepsCharge ? "kept"
                            : "renewed", .. row.ErrorVolts.Select(e => (Cell)Math.Round(e / count, 3))]),
                ]);
            yield return new Lines([new("In a row", InARow(r))]);
        }
        else
            yield return new Lines([new("In a row", "--rate shows several samples in a row.")]) { Media = Media.Screen };
    }

    private static string Acquisition(double seconds, double given) =>
        double.IsInfinity(seconds) ? $"over {Figures.Time(given * SamplingStudy.LongestFactor)}" : Figures.Time(seconds);

    private static string InARow(RespondResult r)
    {
        var kept = r.Rows.Where(row => row.KeepsCharge).ToArray();
        int settled = kept.Max(row => row.ErrorVolts.Select((e, k) => Math.Abs(e) > r.HalfCountVolts ? k + 1 : 0).Max());
        int all = kept[0].HeldVolts.Length;
        double left = r.Rows.Where(row => !row.KeepsCharge).Max(row => Math.Abs(row.ErrorVolts[^1])) / (2 * r.HalfCountVolts);
        string alone = settled == 0 ? "Read alone, every sample is within half a count."
            : settled < all
                ? $"Read alone, the pin is within half a count from sample {settled + 1} on: drop the "
                + $"{(settled == 1 ? "first" : $"first {settled}")} after another channel."
            : $"Read alone, the pin is not within half a count after {all} samples.";
        return $"{alone} Read in turn with another channel at the far end of the range, {Figures.Plain(left, "counts", 2)} are left after "
            + $"{all} samples"
            + (left <= 0.5 ? "." : ": sample less often, longer, or from a lower resistance.");
    }

    private static string Verdict(RespondResult r, Sampling sampling)
    {
        var worst = r.Sampling.MaxBy(s => Math.Abs(s.ErrorVolts))!;
        double counts = worst.ErrorVolts / (2 * r.HalfCountVolts);
        if (Math.Abs(counts) <= 0.5)
            return $"The capacitor settles to half a count in {Figures.Time(sampling.Seconds)}, whatever it held before.";
        double longest = r.Sampling.Max(s => s.LongEnoughSeconds);
        string said = $"The capacitor does not settle: {Figures.Plain(counts, "counts", 3)} are left when it held "
            + $"{Figures.Volts(worst.StartVolts)} before. Connect it for {Acquisition(longest, sampling.Seconds)}";
        // At the common node of a multiplexer a capacitor would hold the channel before.
        if (r.IsMultiplexed)
            return said + ", wait longer once the multiplexer is switched, or lower the resistance ahead of the channel.";
        return said + ", lower the resistance ahead of the pin, or put a capacitor at the pin of more than "
            + $"{Figures.Of(sampling.Farads * Math.Max(Math.Abs(worst.StartVolts - worst.RestVolts), 1e-12) / r.HalfCountVolts, "F", 2)}, "
            + "which holds its voltage within half a count by sharing charge (and then allow it time to recover between samples).";
    }
}
