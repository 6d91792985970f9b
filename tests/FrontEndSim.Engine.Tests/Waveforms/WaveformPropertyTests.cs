using CsCheck;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Waveforms;

/// <summary>A waveform's value and its corners are one thing: between two corners the value is continuous.</summary>
public class WaveformPropertyTests
{
    /// <summary>A number as a person writes a time: few digits, any decade from a nanosecond to a second, or zero.</summary>
    private static readonly Gen<double> Seconds =
        Gen.Select(Gen.Int[0, 120], Gen.Int[-9, 0]).Select((digits, decade) => digits * Math.Pow(10, decade) / 10);

    private static readonly Gen<double> SecondsAboveZero = Seconds.Where(s => s > 0);

    private static readonly Gen<double> Values = Gen.Int[-50, 50].Select(v => v / 2.0);

    private static readonly Gen<Waveform> Pulses =
        Gen.Select(Values, Values, Seconds, Seconds, Seconds, Seconds, Seconds).Select((low, high, start, rise, width, fall, pause) =>
            (Waveform)new Pulse(low, high, start, rise, width, fall, pause == 0 ? double.PositiveInfinity : rise + width + fall + pause));

    private static readonly Gen<Waveform> Steps =
        Gen.Select(Values, Values, Seconds, Seconds).Select((before, after, start, rise) => (Waveform)new Step(before, after, start, rise));

    private static readonly Gen<Waveform> Lines = Gen.Select(Seconds, Values).Array[1, 6].Select(points =>
        (Waveform)new PiecewiseLinear([.. points.OrderBy(p => p.Item1)]));

    private static readonly Gen<DoubleExponential> Impulses =
        Gen.Select(Values.Where(v => v != 0), SecondsAboveZero, Gen.Int[2, 100], Seconds).Select((peak, rise, ratio, start) =>
            new DoubleExponential(peak, rise, ratio * rise, start));

    private static readonly Gen<Waveform> Smooth = Gen.OneOf(
        Impulses.Select(i => (Waveform)i),
        Gen.Select(Impulses, Gen.Int[1, 12]).Select((i, tenths) => (Waveform)new Clipped(i, i.Peak * tenths / 10)),
        Gen.Select(Values, Values, SecondsAboveZero, Seconds).Select((o, a, period, start) =>
            (Waveform)new Sine(o, a, 1 / period, start, 0.5)),
        Gen.Select(Values, SecondsAboveZero, Gen.Int[2, 50], Seconds).Select((a, rise, ratio, start) =>
            (Waveform)new Heidler([new HeidlerTerm(a, rise, ratio * rise, 2)], start)));

    private static readonly Gen<Waveform> Bursts = Gen.Select(Seconds, SecondsAboveZero, Gen.Int[1, 4],
        Gen.Int[1, 3]).Select((start, rise, count, bursts) =>
        (Waveform)new Repeated(new DoubleExponential(5, rise, 4 * rise), start, 300 * rise, count, 300 * rise * (count + 1), bursts));

    private static readonly Gen<Waveform> All = Gen.OneOf(Pulses, Steps, Lines, Smooth, Bursts);

    [Fact]
    public void Between_its_corners_the_value_of_every_waveform_is_continuous_up_to_the_very_last_number_before_each() =>
        All.Sample(waveform =>
        {
            double t = 0;
            for (int n = 0; n < 40 && double.IsFinite(t); n++)
            {
                double corner = waveform.NextCorner(t);
                if (!(corner > t))
                    throw new InvalidOperationException($"the corner after {t} s is {corner} s");
                double end = double.IsFinite(corner) ? corner : t + Math.Max(1, t);
                // Towards either end by halving, down to neighbouring numbers: a jump anywhere there would show.
                Approach(waveform, t, end, fromLeft: true);
                Approach(waveform, t, end, fromLeft: false);
                t = corner;
            }
        }, iter: 3000, seed: "0000Waveform");

    [Fact]
    public void Where_a_waveform_says_that_it_repeats_its_value_is_that_a_period_later() =>
        Gen.Select(All, Seconds, Gen.Double[0, 1], Gen.Double[0, 3]).Sample((waveform, t, share, further) =>
        {
            if (waveform.RepeatsFrom(t) is not { } repetition)
                return;
            double period = repetition.Period > 0 ? repetition.Period : Math.Min(repetition.Until - t, 1) / 4;
            // Off the corners themselves, where rounding decides on which side a time lies.
            double at = t + (share + Math.Floor(further)) * period, later = at + period;
            if (!(later < repetition.Until) || Math.Abs(waveform.At(at * (1 + 1e-9)) - waveform.At(at * (1 - 1e-9))) > 1e-6
                || Math.Abs(waveform.At(later * (1 + 1e-9)) - waveform.At(later * (1 - 1e-9))) > 1e-6)
                return;
            if (Math.Abs(waveform.At(at) - waveform.At(later)) > 1e-4)
                throw new InvalidOperationException($"{waveform.At(at)} at {at} s, {waveform.At(later)} at {later} s");
        }, iter: 3000, seed: "0000Repeats0");

    private static void Approach(Waveform waveform, double start, double end, bool fromLeft)
    {
        double limit = waveform.At(fromLeft ? Math.BitDecrement(end) : start), before = Math.BitDecrement(end);
        double step = before - start, near = double.NaN;
        for (int n = 0; n < 200; n++)
        {
            step /= 2;
            double at = fromLeft ? before - step : start + step;
            near = waveform.At(at);
            // The smallest jump drawn is of a twentieth.
            if (Math.Abs(near - limit) <= 1e-3)
                return;
            if (at == (fromLeft ? before : start))
                break;
        }
        // So short a stretch that a few numbers span the rise: its ends are what its corners say.
        if (!(end - start < 1e-12 * end))
            throw new InvalidOperationException($"{waveform} jumps between {start:r} s and {end:r} s: {near} is not {limit}");
    }

    [Theory]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(11)]
    [InlineData(12)]
    public void A_step_to_12_V_behind_1_ohm_for_some_milliseconds_on_a_resistor_and_a_capacitor_is_charge_and_discharge(double milliseconds)
    {
        double width = milliseconds * 1e-3;
        var run = new Circuit(
        [
            new VoltageSource("E", "A", "GND", new Pulse(0, 12, 1e-3, 0, width, 0)) { SeriesOhms = 1 },
            new Resistor("R", "A", "B", 999), new Capacitor("C", "B", "GND", 1e-6),
        ]).Compile().RunTransient(20e-3).Voltage("B");

        // v = 12 V·(1 − e^(−t/RC)), RC = 1 ms; then it falls as e^(−t/RC).
        double top = 12 * (1 - Math.Exp(-width / 1e-3));
        Assert.Equal(top, run.At(1e-3 + width), 12 * 1e-4);
        Assert.Equal(top * Math.Exp(-1), run.At(2e-3 + width), 12 * 1e-4);
    }
}
