namespace FrontEndSim.Engine.Solving;

/// <summary>
/// The coefficients of a stiffly accurate implicit Runge–Kutta method with an explicit first stage and one diagonal
/// (ESDIRK), and of the embedded method whose difference estimates the error.
/// </summary>
internal sealed class Tableau
{
    private Tableau(string name, int order, double[][] a, double[] embedded, int[] inner)
    {
        (Name, Order, A, Embedded, InnerStages) = (name, order, a, embedded, inner);
        C = [.. a.Select(row => row.Sum())];
        Gamma = a[1][1];
        CheckStages = [.. Enumerable.Range(1, a.Length - 2).Except(inner).Where(_ => inner.Length == 2).Select(s =>
            (s, Through(C, inner, C[s])))];
    }

    /// <summary>
    /// The weights of the start, the two inner stages and the end in the value at <paramref name="u"/> of the cubic through
    /// them.
    /// </summary>
    private static double[] Through(double[] c, int[] inner, double u)
    {
        double[] nodes = [0, c[inner[0]], c[inner[1]], 1];
        return [.. nodes.Select((a, i) => nodes.Where((_, j) => j != i).Aggregate(1.0, (product, b) => product * (u - b) / (a - b)))];
    }

    /// <summary>The method's name for the audit.</summary>
    public string Name { get; }

    /// <summary>Order of the solution that is carried on.</summary>
    public int Order { get; }

    /// <summary>Weights of each stage's slopes; the last row also weighs the step.</summary>
    public double[][] A { get; }

    /// <summary>Weights of the embedded method.</summary>
    public double[] Embedded { get; }

    /// <summary>Times of the stages, in steps.</summary>
    public double[] C { get; }

    /// <summary>The diagonal.</summary>
    public double Gamma { get; }

    /// <summary>Stages inside the step, ascending in time, that the dense output passes through.</summary>
    public int[] InnerStages { get; }

    /// <summary>
    /// The other stages, each with the weights of the cubic of the dense output there: where the two differ, a knee lies
    /// inside the step.
    /// </summary>
    public (int Stage, double[] Weights)[] CheckStages { get; }

    /// <summary>Starts a stage from the polynomial through what is known: the last step and this step's stages so far.</summary>
    /// <param name="x">The unknowns to be set.</param>
    /// <param name="stages">Those at the start of the step and at each stage.</param>
    /// <param name="stage">The stage to start.</param>
    /// <param name="first">The first unknown.</param>
    /// <param name="h">Width of the step, s.</param>
    /// <param name="before">The unknowns a step back; null where that says nothing.</param>
    /// <param name="width">Width of that step, s.</param>
    public void Predict(Scalar[] x, Scalar[][] stages, int stage, int first, double h, Scalar[]? before, double width)
    {
        Scalar[] x0 = stages[0], x1 = stages[stage - 1];
        if (stage == 1)
        {
            double ahead = before is null ? 0 : C[1] * h / width;
            for (int r = first; r < x.Length; r++)
                x[r] = before is null ? x0[r] : new Scalar(x0[r].Value + ahead * (x0[r].Value - before[r].Value));
            return;
        }
        if (stage == 2)
        {
            double u = C[2] / C[1];
            for (int r = first; r < x.Length; r++)
                x[r] = new Scalar(x0[r].Value + u * (x1[r].Value - x0[r].Value));
            return;
        }
        // Parabola through the start and the two stages before.
        Scalar[] x2 = stages[stage - 2];
        double c = C[stage], c1 = C[stage - 1], c2 = C[stage - 2];
        double w1 = c * (c - c2) / (c1 * (c1 - c2)), w2 = c * (c - c1) / (c2 * (c2 - c1)), w0 = 1 - w1 - w2;
        for (int r = first; r < x.Length; r++)
            x[r] = new Scalar(w0 * x0[r].Value + w1 * x1[r].Value + w2 * x2[r].Value);
    }

    /// <summary>The tableau of a method.</summary>
    public static Tableau Of(TimeMethod method) => method switch
    {
        TimeMethod.SecondOrder => Second,
        TimeMethod.ThirdOrder => Third,
        _ => Fourth,
    };

    // Hosea and Shampine, "Analysis and implementation of TR-BDF2", Applied Numerical Mathematics 20 (1996).
    private static readonly Tableau Second = MakeSecond();

    private static Tableau MakeSecond()
    {
        double gamma = 2 - Math.Sqrt(2), d = gamma / 2, w = Math.Sqrt(2) / 4;
        return new("TR-BDF2, order 2", 2, [[0], [d, d], [w, w, d]], [(1 - w) / 3, (3 * w + 1) / 3, d / 3], [1]);
    }

    // Kennedy and Carpenter, "Additive Runge–Kutta schemes for convection–diffusion–reaction equations",
    // Applied Numerical Mathematics 44 (2003), the implicit part of ARK3(2)4L[2]SA.
    private static readonly Tableau Third = MakeThird();

    private static Tableau MakeThird()
    {
        const double g = 1767732205903.0 / 4055673282236.0;
        return new("ESDIRK3(2), order 3", 3,
        [
            [0],
            [g, g],
            [2746238789719.0 / 10658868560708.0, -640167445237.0 / 6845629431997.0, g],
            [1471266399579.0 / 7840856788654.0, -4482444167858.0 / 7529755066697.0, 11266239266428.0 / 11593286722821.0, g],
        ],
        [2756255671327.0 / 12835298489170.0, -10771552573575.0 / 22201958757719.0, 9247589265047.0 / 10645013368117.0,
            2193209047091.0 / 5459859503100.0],
        [2, 1]);
    }

    // The same authors, the implicit part of ARK4(3)6L[2]SA.
    private static readonly Tableau Fourth = new("ESDIRK4(3), order 4", 4,
        [
            [0],
            [1 / 4.0, 1 / 4.0],
            [8611 / 62500.0, -1743 / 31250.0, 1 / 4.0],
            [5012029 / 34652500.0, -654441 / 2922500.0, 174375 / 388108.0, 1 / 4.0],
            [15267082809 / 155376265600.0, -71443401 / 120774400.0, 730878875 / 902184768.0, 2285395 / 8070912.0, 1 / 4.0],
            [82889 / 524892.0, 0, 15625 / 83664.0, 69875 / 102672.0, -2260 / 8211.0, 1 / 4.0],
        ],
        [4586570599 / 29645900160.0, 0, 178811875 / 945068544.0, 814220225 / 1159782912.0, -3700637 / 11593932.0, 61727 / 225920.0],
        [2, 3]);
}
