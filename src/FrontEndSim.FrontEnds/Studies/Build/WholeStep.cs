namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>A step of a calculation in whole numbers.</summary>
/// <param name="Operation">What it does.</param>
/// <param name="Left">The step that it takes; −1 where it takes none.</param>
/// <param name="Right">The other step; −1 where there is none.</param>
/// <param name="Number">The place of a pin, a constant, or a power of two.</param>
/// <param name="Low">What it gives at least, at any codes.</param>
/// <param name="High">What it gives at most.</param>
public sealed record WholeStep(WholeOperation Operation, int Left, int Right, long Number, long Low, long High)
{
    /// <summary>What it gives.</summary>
    /// <param name="values">What the steps before it gave.</param>
    /// <param name="codes">The codes of the pins.</param>
    public long Of(long[] values, long[] codes)
    {
        checked
        {
            return Operation switch
            {
                WholeOperation.HalfCounts => 2 * codes[Number] + 1,
                WholeOperation.Constant => Number,
                WholeOperation.Sum => values[Left] + values[Right],
                WholeOperation.Difference => values[Left] - values[Right],
                WholeOperation.Product => values[Left] * values[Right],
                WholeOperation.Negative => -values[Left],
                WholeOperation.Magnitude => Math.Abs(values[Left]),
                WholeOperation.WithSign => values[Right] < 0 ? -values[Left] : values[Left],
                WholeOperation.Least => Math.Min(values[Left], values[Right]),
                WholeOperation.Greatest => Math.Max(values[Left], values[Right]),
                WholeOperation.Raised => values[Left] * (1L << (int)Number),
                WholeOperation.Dropped => Dropped(values[Left], (int)Number),
                _ => Root(values[Left]),
            };
        }
    }

    /// <summary>A number over a power of two, to the nearest; halves go away from zero.</summary>
    internal static long Dropped(long value, int power) => (value + (value < 0 ? -1 : 1) * ((1L << power) / 2)) / (1L << power);

    /// <summary>The largest whole number whose square is not above a number.</summary>
    internal static long Root(long value)
    {
        long root = 0;
        for (long bit = 1L << 30; bit > 0; bit >>= 1)
        {
            if ((root + bit) * (root + bit) <= value)
                root += bit;
        }
        return root;
    }
}

/// <summary>What a step does.</summary>
public enum WholeOperation
{
    /// <summary>Twice the code of a pin and one: the middle of the code's step, in halves of a count.</summary>
    HalfCounts,

    /// <summary>A constant.</summary>
    Constant,

    /// <summary>a + b.</summary>
    Sum,

    /// <summary>a − b.</summary>
    Difference,

    /// <summary>a · b.</summary>
    Product,

    /// <summary>−a.</summary>
    Negative,

    /// <summary>|a|.</summary>
    Magnitude,

    /// <summary>a, or −a where b is negative.</summary>
    WithSign,

    /// <summary>The lesser of two.</summary>
    Least,

    /// <summary>The greater of two.</summary>
    Greatest,

    /// <summary>a times a power of two.</summary>
    Raised,

    /// <summary>a over a power of two, to the nearest.</summary>
    Dropped,

    /// <summary>The whole part of the square root.</summary>
    Root,
}
