using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>
/// Turns a formula in the shares of pins into steps in whole numbers. A value is a step over a power of two; what is divided by a code
/// stays a quotient of two such values to the end. Each step knows its range over all codes, so that nothing overflows, and each value what
/// it may be off by.
/// </summary>
internal sealed class WholeLowering(ImmutableArray<int> bits)
{
    // A constant that is no whole number of a power of two has so many digits.
    private const int ConstantBits = 30, MostPower = 8, MostBits = WholeReading.MostBits;

    private readonly List<WholeStep> _steps = [];

    /// <summary>What could not be turned; null where all went.</summary>
    public CalculationKind? InTheWay { get; private set; }

    /// <summary>A step over 2^<paramref name="Point"/>, and what it may be off by, in what it stands for.</summary>
    public readonly record struct Scaled(int Step, int Point, double Error);

    /// <summary>A value, or the quotient of two of which the lower is never negative.</summary>
    public readonly record struct Ratio(Scaled Over, Scaled? Under);

    /// <summary>The digits of a number without its sign.</summary>
    public static int Length(Int128 value) => 128 - (int)Int128.LeadingZeroCount(Int128.Abs(value));

    /// <summary>The formula as a value; null where it has something that cannot be turned.</summary>
    public Ratio? Lower(ShareExpression expression)
    {
        if (!expression.HasPins)
            return expression.Of([]) is var number && double.IsFinite(number) ? new(Constant(number), null) : null;
        if (expression is PinShare pin)
            return new(new(Step(WholeOperation.HalfCounts, -1, -1, pin.Place, 1, (1L << (bits[pin.Place] + 1)) - 1),
                bits[pin.Place] + 1, 0), null);
        var (kind, operands) = (Calculation)expression;
        switch (kind)
        {
            case CalculationKind.Power when operands[1].HasPins || !IsPower(operands[1].Of([])):
            case CalculationKind.Exponential or CalculationKind.NaturalLogarithm or CalculationKind.DecimalLogarithm:
                InTheWay ??= kind;
                return null;
            case CalculationKind.Power:
                return Lower(operands[0]) is { } based ? Power(based, operands[1].Of([])) : null;
        }
        Ratio? made = null;
        foreach (var operand in operands)
        {
            if (Lower(operand) is not { } next)
                return null;
            made = made is not { } before ? next : kind switch
            {
                CalculationKind.Product => Product(before, next),
                CalculationKind.Quotient => Quotient(before, next),
                _ => Together(before, next, kind),
            };
        }
        return (kind, made) switch
        {
            (CalculationKind.Negative, { } of) => of with { Over = Negative(of.Over) },
            (CalculationKind.Magnitude, { } of) => of with { Over = Magnitude(of.Over) },
            (CalculationKind.SquareRoot, { } of) => Root(of),
            _ => made,
        };
    }

    /// <summary>
    /// The numerator, counted from the first step of a table, and the denominator, so that their quotient is in its steps; what does not
    /// fit into the width is dropped from both.
    /// </summary>
    /// <param name="ratio">The value.</param>
    /// <param name="power">The power of two of a step.</param>
    /// <param name="first">The lowest value, in steps.</param>
    /// <param name="count">How many steps the highest is above it.</param>
    /// <param name="spare">Bits that the denominator leaves free for what is made of it.</param>
    public (Scaled Over, Scaled Under) Place(Ratio ratio, int power, long first, long count, int spare)
    {
        var (over, under) = (ratio.Over, ratio.Under ?? Constant(1));
        int s = under.Point - over.Point - power, down = Math.Max(0, -s), up = down + s;
        int far = Length(Int128.Max(Int128.Abs(first), Int128.Abs(first + count)));
        // A bit more is what rounding carries.
        while (Math.Max(Digits(over) + up, Digits(under) + down + far) + 2 > MostBits || Digits(under) + down + 1 + spare > MostBits)
            (up, down) = (up - 1, down - 1);
        var (high, low) = (Shifted(over, up), Shifted(under, down));
        // Both stand over powers of two whose quotient is that of a step, which is left out from here on.
        var start = Times(low.Step, first);
        long a = _steps[high.Step].Low, b = _steps[high.Step].High, c = _steps[start].Low, d = _steps[start].High;
        int difference = first == 0 ? high.Step
            : Step(WholeOperation.Difference, high.Step, start, 0, (Int128)a - d, (Int128)b - c);
        return (high with { Step = difference }, low);
    }

    /// <summary>The steps that two need, in order; the two are told their new places.</summary>
    public ImmutableArray<WholeStep> Pruned(ref Scaled over, ref Scaled under)
    {
        bool[] needed = new bool[_steps.Count];
        needed[over.Step] = needed[under.Step] = true;
        for (int k = needed.Length - 1; k >= 0; k--)
        {
            if (needed[k] && _steps[k].Left is >= 0 and var left)
                needed[left] = true;
            if (needed[k] && _steps[k].Right is >= 0 and var right)
                needed[right] = true;
        }
        int[] place = new int[needed.Length];
        var kept = ImmutableArray.CreateBuilder<WholeStep>();
        for (int k = 0; k < needed.Length; k++)
        {
            if (!needed[k])
                continue;
            place[k] = kept.Count;
            var step = _steps[k];
            kept.Add(step with
            {
                Left = step.Left < 0 ? -1 : place[step.Left],
                Right = step.Right < 0 ? -1 : place[step.Right],
            });
        }
        over = over with { Step = place[over.Step] };
        under = under with { Step = place[under.Step] };
        return kept.ToImmutable();
    }

    private static bool IsPower(double exponent) => exponent == 0.5
        || exponent == Math.Floor(exponent) && Math.Abs(exponent) is > 0 and <= MostPower;

    private Ratio Power(Ratio based, double exponent)
    {
        if (exponent == 0.5)
            return Root(based);
        var made = based;
        for (int k = 1; k < Math.Abs(exponent); k++)
            made = Product(made, based);
        return exponent > 0 ? made : Quotient(new(Constant(1), null), made);
    }

    private Ratio Product(Ratio a, Ratio b) => new(Product(a.Over, b.Over), Below(a, b));

    private Scaled? Below(Ratio a, Ratio b) => (a.Under, b.Under) switch
    {
        ({ } of, { } with) => Product(of, with),
        var (of, with) => of ?? with,
    };

    private Ratio Quotient(Ratio a, Ratio b)
    {
        var over = b.Under is { } raised ? Product(a.Over, raised) : a.Over;
        var under = a.Under is { } below ? Product(b.Over, below) : b.Over;
        var step = _steps[under.Step];
        if (step.High <= 0)
            (over, under) = (Negative(over), Negative(under));
        else if (step.Low < 0)
            (over, under) = (over with
            {
                Step = Step(WholeOperation.WithSign, over.Step, under.Step, 0, -Most(over), Most(over)),
            }, Magnitude(under));
        if (Scale(under) is not { } scale)
            return new(over, under);
        return new(new(over.Step, over.Point + scale, Math.ScaleB(over.Error, -scale)), null);
    }

    /// <summary>A sum, a difference, or one of the two.</summary>
    private Ratio Together(Ratio a, Ratio b, CalculationKind kind)
    {
        if (a.Under == b.Under)
            return new(Together(a.Over, b.Over, kind), a.Under);
        return new(Together(b.Under is { } with ? Product(a.Over, with) : a.Over, a.Under is { } of ? Product(b.Over, of) : b.Over, kind),
            Below(a, b));
    }

    private Scaled Together(Scaled a, Scaled b, CalculationKind kind)
    {
        int point = Math.Min(Math.Max(a.Point, b.Point), MostBits - 2 - Math.Max(Digits(a) - a.Point, Digits(b) - b.Point));
        (a, b) = (Shifted(a, point - a.Point), Shifted(b, point - b.Point));
        var (left, right) = (_steps[a.Step], _steps[b.Step]);
        int step = kind switch
        {
            CalculationKind.Sum =>
                Step(WholeOperation.Sum, a.Step, b.Step, 0, (Int128)left.Low + right.Low, (Int128)left.High + right.High),
            CalculationKind.Difference =>
                Step(WholeOperation.Difference, a.Step, b.Step, 0, (Int128)left.Low - right.High, (Int128)left.High - right.Low),
            CalculationKind.Least =>
                Step(WholeOperation.Least, a.Step, b.Step, 0, Math.Min(left.Low, right.Low), Math.Min(left.High, right.High)),
            _ => Step(WholeOperation.Greatest, a.Step, b.Step, 0, Math.Max(left.Low, right.Low), Math.Max(left.High, right.High)),
        };
        return new(step, point, kind is CalculationKind.Sum or CalculationKind.Difference ? a.Error + b.Error : Math.Max(a.Error, b.Error));
    }

    private Scaled Product(Scaled a, Scaled b)
    {
        if (Scale(a) is { } left)
            return new(b.Step, b.Point - left, Math.ScaleB(b.Error, left));
        if (Scale(b) is { } right)
            return new(a.Step, a.Point - right, Math.ScaleB(a.Error, right));
        int first = Digits(a), second = Digits(b);
        while (first + second > MostBits - 2)
        {
            if (first >= second)
                first--;
            else
                second--;
        }
        (a, b) = (Shifted(a, first - Digits(a)), Shifted(b, second - Digits(b)));
        var (x, y) = (_steps[a.Step], _steps[b.Step]);
        Int128[] ends = [(Int128)x.Low * y.Low, (Int128)x.Low * y.High, (Int128)x.High * y.Low, (Int128)x.High * y.High];
        return new(Step(WholeOperation.Product, a.Step, b.Step, 0, ends.Min(), ends.Max()), a.Point + b.Point,
            Largest(a) * b.Error + Largest(b) * a.Error + a.Error * b.Error);
    }

    /// <summary>The power of two that a constant is; null where it is none.</summary>
    private int? Scale(Scaled a) => a.Error == 0 && _steps[a.Step] is { Operation: WholeOperation.Constant } c && long.IsPow2(c.Number)
        ? (int)long.TrailingZeroCount(c.Number) - a.Point : null;

    private Scaled Negative(Scaled a) => _steps[a.Step] is { Operation: WholeOperation.Constant, Number: var n }
        ? a with { Step = Step(WholeOperation.Constant, -1, -1, -n, -n, -n) }
        : a with { Step = Step(WholeOperation.Negative, a.Step, -1, 0, -(Int128)_steps[a.Step].High, -(Int128)_steps[a.Step].Low) };

    private Scaled Magnitude(Scaled a) => _steps[a.Step] is var of && of.Low >= 0 ? a
        : a with { Step = Step(WholeOperation.Magnitude, a.Step, -1, 0, of.High <= 0 ? -(Int128)of.High : 0, Most(a)) };

    /// <summary>√(a/b) as √(a·b)/b.</summary>
    private Ratio Root(Ratio of)
    {
        var square = of.Under is { } under ? Product(of.Over, under) : of.Over;
        square = Together(square, Constant(0), CalculationKind.Greatest);
        // As many digits as there is room for, and an even power of two below.
        int up = MostBits - 2 - Digits(square);
        square = Shifted(square, up - ((square.Point + up) & 1));
        var step = _steps[square.Step];
        double least = Math.ScaleB(step.Low, -square.Point) - square.Error;
        // √ is off by e/(2·√least), and nowhere by more than √e.
        double off = square.Error == 0 ? 0 : least > 0 ? Math.Min(square.Error / (2 * Math.Sqrt(least)), Math.Sqrt(square.Error))
            : Math.Sqrt(square.Error);
        int point = square.Point / 2;
        return new(new(Step(WholeOperation.Root, square.Step, -1, 0, WholeStep.Root(step.Low), WholeStep.Root(step.High)), point,
            off + Math.ScaleB(1, -point)), of.Under);
    }

    private Scaled Constant(double value)
    {
        // A whole number of a power of two where it is one, else as many digits as others leave room for.
        int point = 0;
        while (point < ConstantBits && Math.ScaleB(value, point) != Math.Floor(Math.ScaleB(value, point)))
            point++;
        if (Math.ScaleB(value, point) != Math.Floor(Math.ScaleB(value, point)) || Math.Abs(Math.ScaleB(value, point)) >= 1L << ConstantBits)
            point = ConstantBits - 1 - Math.ILogB(value);
        long number = (long)Math.Round(Math.ScaleB(value, point));
        return new(Step(WholeOperation.Constant, -1, -1, number, number, number), point, Math.Abs(Math.ScaleB(number, -point) - value));
    }

    private int Times(int step, long number)
    {
        if (number == 1)
            return step;
        var of = _steps[step];
        int constant = Step(WholeOperation.Constant, -1, -1, number, number, number);
        Int128 low = (Int128)of.Low * number, high = (Int128)of.High * number;
        return Step(WholeOperation.Product, step, constant, 0, Int128.Min(low, high), Int128.Max(low, high));
    }

    private Scaled Shifted(Scaled a, int by)
    {
        var of = _steps[a.Step];
        if (by == 0)
            return a;
        // Nothing is left of it then.
        if (by < -MostBits)
            return new(Constant(0).Step, a.Point + by, Largest(a) + a.Error);
        if (by < 0)
            return new(Step(WholeOperation.Dropped, a.Step, -1, -by, WholeStep.Dropped(of.Low, -by), WholeStep.Dropped(of.High, -by)),
                a.Point + by, a.Error + Math.ScaleB(0.5, -(a.Point + by)));
        long raised = of.Number << by;
        return a with
        {
            Point = a.Point + by,
            Step = of.Operation == WholeOperation.Constant ? Step(WholeOperation.Constant, -1, -1, raised, raised, raised)
                : Step(WholeOperation.Raised, a.Step, -1, by, (Int128)of.Low << by, (Int128)of.High << by),
        };
    }

    private Int128 Most(Scaled a) => Int128.Max(Int128.Abs(_steps[a.Step].Low), Int128.Abs(_steps[a.Step].High));

    private int Digits(Scaled a) => Length(Most(a));

    private double Largest(Scaled a) => Math.ScaleB((double)Most(a), -a.Point);

    private int Step(WholeOperation operation, int left, int right, long number, Int128 low, Int128 high)
    {
        var step = checked(new WholeStep(operation, left, right, number, (long)low, (long)high));
        int at = _steps.IndexOf(step);
        if (at >= 0)
            return at;
        _steps.Add(step);
        return _steps.Count - 1;
    }
}
