namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>
/// Points of a data sheet with a smooth curve through them that turns nowhere between them: cubic pieces with the slopes of F. N. Fritsch
/// and J. Butland, "A method for constructing local monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984).
/// Beyond the ends it goes on straight.
/// </summary>
public sealed record TableLaw : SensorLaw
{
    private readonly double[] _slopes;

    /// <summary>The curve through points.</summary>
    /// <param name="points">The points, the quantity ascending, at least two.</param>
    /// <param name="gives">What the outputs are: volts, ohm or amperes.</param>
    /// <exception cref="ArgumentException">There are fewer than two points, or they do not ascend.</exception>
    public TableLaw(ImmutableArray<SensorPoint> points, Unit gives)
    {
        if (points.Length < 2)
            throw new ArgumentException("A table needs two points at least.", nameof(points));
        for (int k = 1; k < points.Length; k++)
        {
            if (!(points[k].Quantity > points[k - 1].Quantity))
                throw new ArgumentException(
                    $"The points of a table ascend, but {points[k].Quantity} does not follow {points[k - 1].Quantity}.", nameof(points));
        }
        (Points, Gives) = (points, gives);
        _slopes = Slopes(points);
    }

    /// <summary>The points, the quantity ascending.</summary>
    public ImmutableArray<SensorPoint> Points { get; }

    /// <summary>What the outputs are.</summary>
    public Unit Gives { get; }

    /// <summary>Name of the file that the points came from; null where they stand in the circuit file.</summary>
    public string? File { get; init; }

    /// <summary>Unit of the outputs in that file, as its statement says it.</summary>
    public string FileUnit { get; init; } = "";

    /// <summary>Largest relative error of all outputs either way, a fraction.</summary>
    public double SensitivityError { get; init; }

    /// <inheritdoc/>
    public override Unit Output => Gives;

    /// <inheritdoc/>
    public override Span? Validity => new(Points[0].Quantity, Points[^1].Quantity);

    /// <inheritdoc/>
    public override string Text => $"a table of {Points.Length} points";

    private protected override ImmutableArray<(string Name, double Limit)> Tolerances => [("sensitivity", SensitivityError)];

    private protected override double Value(double quantity, double celsius, double first, double second) => (1 + first) * Curve(quantity);

    private double Curve(double x)
    {
        if (x <= Points[0].Quantity)
            return Points[0].Output + _slopes[0] * (x - Points[0].Quantity);
        if (x >= Points[^1].Quantity)
            return Points[^1].Output + _slopes[^1] * (x - Points[^1].Quantity);
        int low = 0, high = Points.Length - 1;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            if (Points[middle].Quantity <= x)
                low = middle;
            else
                high = middle;
        }
        var (a, b) = (Points[low], Points[low + 1]);
        double h = b.Quantity - a.Quantity, t = (x - a.Quantity) / h, u = 1 - t;
        return a.Output * u * u * (1 + 2 * t) + b.Output * t * t * (3 - 2 * t) + h * t * u * (_slopes[low] * u - _slopes[low + 1] * t);
    }

    private static double[] Slopes(ImmutableArray<SensorPoint> points)
    {
        int n = points.Length;
        double[] h = new double[n - 1], secant = new double[n - 1], slopes = new double[n];
        for (int k = 0; k < n - 1; k++)
        {
            h[k] = points[k + 1].Quantity - points[k].Quantity;
            secant[k] = (points[k + 1].Output - points[k].Output) / h[k];
        }
        if (n == 2)
            return [secant[0], secant[0]];
        for (int k = 1; k < n - 1; k++)
        {
            // The weighted harmonic mean of the secants, nothing where they differ in sign.
            double before = 2 * h[k] + h[k - 1], after = h[k] + 2 * h[k - 1];
            slopes[k] = secant[k - 1] * secant[k] <= 0 ? 0 : (before + after) / (before / secant[k - 1] + after / secant[k]);
        }
        slopes[0] = End(h[0], h[1], secant[0], secant[1]);
        slopes[^1] = End(h[^1], h[^2], secant[^1], secant[^2]);
        return slopes;
    }

    /// <summary>The slope of the parabola through three points at an end, bounded so that the curve does not turn.</summary>
    private static double End(double near, double far, double first, double second)
    {
        double slope = ((2 * near + far) * first - near * second) / (near + far);
        return slope * first <= 0 ? 0 : first * second <= 0 && Math.Abs(slope) > 3 * Math.Abs(first) ? 3 * first : slope;
    }
}

/// <summary>A point of a sensor's table.</summary>
/// <param name="Quantity">What is measured, in its own unit.</param>
/// <param name="Output">What the sensor gives there: volts, ohm or amperes.</param>
public readonly record struct SensorPoint(double Quantity, double Output);
