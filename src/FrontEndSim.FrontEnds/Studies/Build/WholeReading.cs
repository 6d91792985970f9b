using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>
/// What firmware computes from the codes of several pins in whole numbers: steps that make two numbers of the codes, and a table with
/// straight lines over the quotient of the two. Where the quotient lies beyond the table, or its denominator is zero, the reading is an end
/// of the table.
/// </summary>
/// <param name="Steps">The steps, in order.</param>
/// <param name="Over">The step that gives the numerator, counted from the first entry.</param>
/// <param name="Under">The step that gives the denominator, which is never negative: a quotient of one is one fine step.</param>
/// <param name="FineSteps">How many fine steps the last reading is above the first entry.</param>
/// <param name="Shift">The power of two of the fine steps from one entry to the next.</param>
/// <param name="WholeEntries">What is measured at each entry, in whole numbers of <paramref name="ResultUnit"/>.</param>
/// <param name="Last">The reading where the quotient is at the end or beyond.</param>
/// <param name="ResultUnit">What one is worth, in the sensor's unit: 1, 0.1, 0.01, and so on.</param>
/// <param name="ProductBits">Width of a signed integer that holds every product: 32 or 64.</param>
/// <param name="Rounding">Largest difference to the same in floating point at any codes, in the sensor's unit: a bound that is derived from
/// the ranges of the steps, not evaluated.</param>
/// <param name="LeastDenominator">The denominator from which on that bound holds; 0 where it holds at every code.</param>
public sealed record WholeReading(ImmutableArray<WholeStep> Steps, int Over, int Under, long FineSteps, int Shift,
    ImmutableArray<long> WholeEntries, long Last, double ResultUnit, int ProductBits, double Rounding, long LeastDenominator)
{
    // Finer than this share of a count nobody sees.
    private const double FineEnough = 0.25;

    /// <summary>Numbers are kept within two to this power.</summary>
    internal const int MostBits = 62;

    /// <summary>What it gives for the codes of its pins, in whole numbers of <see cref="ResultUnit"/>: as the C does it.</summary>
    /// <exception cref="OverflowException">Never: the ranges of the steps exclude it.</exception>
    public long At(params long[] codes)
    {
        var (over, under) = Quotient(codes);
        checked
        {
            if (over >= FineSteps * under)
                return Last;
            if (over <= 0)
                return WholeEntries[0];
            long width = under * (1L << Shift), k = over / width;
            return Between(WholeEntries[(int)k], WholeEntries[(int)k + 1], over - k * width, width);
        }
    }

    /// <summary>The denominator for the codes of its pins.</summary>
    public long Denominator(params long[] codes) => Quotient(codes).Under;

    private (long Over, long Under) Quotient(long[] codes)
    {
        long[] values = new long[Steps.Length];
        for (int k = 0; k < values.Length; k++)
            values[k] = Steps[k].Of(values, codes);
        return (values[Over], values[Under]);
    }

    private static long Between(long from, long to, long rest, long width)
    {
        long product = checked((to - from) * rest);
        return from + (product + (product < 0 ? -(width / 2) : width / 2)) / width;
    }

    /// <summary>The whole numbers of a reading; null where its formula has something that only floating point computes.</summary>
    /// <param name="back">What firmware computes in floating point.</param>
    /// <param name="expression">The formula.</param>
    /// <param name="bits">Resolution of each converter.</param>
    /// <param name="step">What a count of the finest pin makes at most, in the sensor's unit.</param>
    /// <param name="inTheWay">What only floating point computes; null where all goes.</param>
    internal static WholeReading? Of(CombinedBack back, ShareExpression expression, ImmutableArray<int> bits, double step,
        out CalculationKind? inTheWay)
    {
        var lowering = new WholeLowering(bits);
        var made = lowering.Lower(expression);
        inTheWay = lowering.InTheWay;
        if (made is not { } ratio)
            return null;
        double unit = FirmwareTable.UnitFor(step);
        int shift = 0;
        double chord = Chord(back, 0);
        while (back.Steps >> (shift + 1) >= 2 && Chord(back, shift + 1) is var wider && wider <= Math.Max(FineEnough * step, chord))
            (shift, chord) = (shift + 1, wider);
        int pieces = (back.Steps + (1 << shift) - 1) >> shift;
        // The last entry may lie beyond the numbers that are read: the line to it ends on the way.
        long[] entries = [.. Enumerable.Range(0, pieces + 1).Select(k => (long)Math.Round(back.Unbounded(Number(back, (long)k << shift))
            / unit))];
        long rise = Enumerable.Range(0, pieces).Max(k => Math.Abs(entries[k + 1] - entries[k]));
        var (over, under) = lowering.Place(ratio, back.StepPower, back.FirstStep, back.Steps,
            shift + 1 + Math.Max(WholeLowering.Length(rise), WholeLowering.Length(pieces)));
        var steps = lowering.Pruned(ref over, ref under);
        long widest = steps[under.Step].High, farthest = Math.Max(Math.Abs(back.FirstStep), Math.Abs(back.FirstStep + back.Steps));
        var whole = new WholeReading(steps, over.Step, under.Step, back.Steps, shift, [.. entries],
            Between(entries[pieces - 1], entries[pieces], back.Steps - ((long)(pieces - 1) << shift), 1L << shift), unit, 64, 0, 0);
        double off = Math.ScaleB(over.Error, over.Point), offUnder = Math.ScaleB(under.Error, under.Point), moved = 0;
        if (off + offUnder > 0)
        {
            // Away from where the sensor is the denominator may come to nothing, and no rounding is small beside it.
            long least = back.Counts.Min(c => whole.Denominator([.. c.Select((n, k) =>
                Math.Clamp((long)Math.Floor(n), 0, (1L << bits[k]) - 1))]));
            if (steps[under.Step].Operation != WholeOperation.Constant)
                least /= 2;
            // Of A/B with A off by a and B by b it is (a + A/B·b)/(B − b) at most.
            moved = (off + (farthest + 1) * offUnder) / (least - offUnder);
            if (!(least > 2 * offUnder) || !(moved < 1))
                return null;
            if (steps[under.Step].Operation != WholeOperation.Constant)
                whole = whole with { LeastDenominator = least };
        }
        Int128 largest = steps.Select(s => Int128.Max(Int128.Abs(s.Low), Int128.Abs(s.High)))
            .Append((Int128)widest * back.Steps).Append(((Int128)widest << shift) * (rise + 1)).Append(entries.Max(Math.Abs)).Max();
        return whole with
        {
            ProductBits = largest <= int.MaxValue ? 32 : 64,
            // The chord, half a whole number of an entry and half of the quotient, and how far the place on the line is off.
            Rounding = chord + unit * (1 + moved * Math.ScaleB(rise, -shift)),
        };
    }

    private static double Number(CombinedBack back, long step) => Math.ScaleB(back.FirstStep + step, back.StepPower);

    /// <summary>
    /// How far straight lines between entries so far apart are from the polynomial at most, in the sensor's unit. About the middle of a
    /// piece of half the width 1 the polynomial is Σ c·s^k; its chord takes s^k as 1 where k is even and as s where it is odd, and off
    /// these s^k is never more than 1.
    /// </summary>
    private static double Chord(CombinedBack back, int shift)
    {
        double half = 0.5 * Math.ScaleB(1, back.StepPower + shift) / back.Half, most = 0;
        for (long at = 0; at < back.Steps; at += 1L << shift)
        {
            double middle = (Number(back, at) - back.Middle) / back.Half + half;
            // Taylor's coefficients about the middle, by repeated division.
            double[] c = [.. back.Coefficients];
            for (int j = 0; j < c.Length; j++)
            {
                for (int k = c.Length - 2; k >= j; k--)
                    c[k] += middle * c[k + 1];
            }
            most = Math.Max(most, Enumerable.Range(2, c.Length - 2).Sum(k => Math.Abs(c[k]) * Math.Pow(half, k)));
        }
        return most;
    }
}
