using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;
using Complex = System.Numerics.Complex;

namespace FrontEndSim.Engine.Solving;

/// <summary>One natural mode of a linearised circuit.</summary>
/// <param name="S">Its complex frequency, rad/s.</param>
/// <param name="Grows">Whether it grows by more than rounding.</param>
/// <param name="Shape">The unknowns in it, the largest 1.</param>
/// <param name="Shares">How much each unknown takes part.</param>
internal sealed record NaturalMode(Complex S, bool Grows, Complex[] Shape, double[] Shares);

/// <summary>The circuit linearised at a kernel's present solution: (G + s·C)·x = 0 without excitation.</summary>
internal sealed class Linearisation
{
    // Shifts to look from, and how far from each a mode is taken from it: together they cover all magnitudes.
    private static readonly double[] Shifts = [1e1, 1e4, 1e7, 1e10];
    private const double Band = 40;

    private const double Rounding = 1.1e-16;

    // Full matrices: of more unknowns their modes take hours and gigabytes.
    private const int MostUnknowns = 1000;

    // A growth slower than this is no more than drift, 1/s.
    private const double SlowestGrowth = 1e-3;

    private readonly Kernel<Scalar> _kernel;
    private readonly Matrix<Complex> _g, _c;
    private readonly Matrix<double> _realG, _realC;
    private readonly int _first;

    public Linearisation(Kernel<Scalar> kernel)
    {
        _kernel = kernel;
        _first = kernel.Topology.Wiring.FirstUnknown;
        if (kernel.At.X.Length - _first is var unknowns && unknowns > MostUnknowns)
        {
            throw new SolveException($"Natural modes and loop gains are worked out of {MostUnknowns} unknowns at most; "
                + $"the circuit has {unknowns}.");
        }
        var (g, c) = kernel.Slopes();
        (_realG, _realC) = (Matrix<double>.Build.DenseOfArray(g), Matrix<double>.Build.DenseOfArray(c));
        (_g, _c) = (_realG.ToComplex(), _realC.ToComplex());
    }

    /// <summary>Number of unknowns.</summary>
    public int Order => _g.RowCount;

    /// <summary>G + s·C.</summary>
    public Matrix<Complex> At(Complex s) => _g + _c * s;

    /// <summary>
    /// All natural modes of finite frequency. With a shift σ, (G + σC)⁻¹·C has the eigenvalues 1/(σ − s); those far from the
    /// shift lose digits, so each is taken from the nearest of several shifts and refined by inverse iteration.
    /// </summary>
    /// <param name="isWanted">Which are refined, by their frequency before; null for all.</param>
    public IReadOnlyList<NaturalMode> Modes(Func<Complex, bool>? isWanted = null)
    {
        int[] states = [.. Enumerable.Range(0, Order).Where(c => _realC.Column(c).Any(v => v != 0))];
        var found = new List<NaturalMode>();
        if (states.Length == 0)
            return found;
        foreach (double shift in Shifts)
        {
            // Columns without charge are zero: the eigenvalues that count are those of the rows and columns of states.
            var m = (_realG + shift * _realC).LU().Solve(_realC);
            var reduced = Matrix<double>.Build.Dense(states.Length, states.Length, (r, c) => m[states[r], states[c]]);
            var evd = Eigenvalues(reduced);
            for (int k = 0; k < states.Length; k++)
            {
                Complex mu = evd[k];
                if (mu == 0 || mu.Imaginary < 0) // of a conjugate pair one: s has a positive imaginary part where μ has
                    continue;
                Complex s = shift - 1 / mu;
                double size = s.Magnitude;
                bool isNear = (size > shift / Band || shift == Shifts[0]) && (size < shift * Band || shift == Shifts[^1]);
                if (!isNear || isWanted?.Invoke(s) == false)
                    continue;
                if (Refined(s) is { } mode && !found.Any(f => (f.S - mode.S).Magnitude <= 1e-6 * mode.S.Magnitude + 1e-9))
                    found.Add(mode);
            }
        }
        return found;
    }

    private static Vector<Complex> Eigenvalues(Matrix<double> matrix)
    {
        try
        {
            return matrix.Evd().EigenValues;
        }
        catch (NonConvergenceException)
        {
            throw new SolveException("The natural modes were not found: the parts' values lie too many decades apart.");
        }
    }

    /// <summary>A mode from its approximate frequency; null where there is none, as for what rounding makes of zero eigenvalues.</summary>
    private NaturalMode? Refined(Complex s)
    {
        var right = Vector<Complex>.Build.Dense(Order, k => new Complex(1, 0.1 * k / Order));
        var left = right.Clone();
        Complex start = s;
        s *= 1 + 1e-7; // off the mode itself, where the matrix is singular
        for (int n = 0; n < 6; n++)
        {
            var lu = At(s == 0 ? 1e-6 : s).LU();
            var z = lu.Solve(_c * right);
            double norm = z.L2Norm();
            if (!double.IsFinite(norm) || norm == 0)
                return null;
            Complex growth = right.ConjugateDotProduct(z) / right.ConjugateDotProduct(right);
            right = z / norm;
            var w = At(s == 0 ? 1e-6 : s).Transpose().LU().Solve(_c.Transpose() * left);
            left = w / w.L2Norm();
            if (n == 0 || growth == 0)
                continue; // the first step only finds the direction
            Complex next = s - 1 / growth;
            if ((next - s).Magnitude <= 1e-10 * next.Magnitude)
            {
                s = next;
                break;
            }
            s = next;
        }
        if (!((s - start).Magnitude <= 0.1 * start.Magnitude + 1e-3))
            return null;
        // What the refinement leaves of the frequency of a mode that does not oscillate.
        if (Math.Abs(s.Imaginary) < 1e-9 * s.Magnitude)
            s = s.Real;
        var charge = _c * right;
        Complex weight = left.DotProduct(charge);
        double total = 0, blur = 0;
        var shares = new double[Order];
        for (int r = 0; r < Order; r++)
        {
            total += shares[r] = (left[r] * charge[r]).Magnitude;
            double row = 0;
            for (int c = 0; c < Order; c++)
                row += (Math.Abs(_realG[r, c]) + s.Magnitude * Math.Abs(_realC[r, c])) * right[c].Magnitude;
            blur += left[r].Magnitude * row;
        }
        blur *= Order * Rounding / weight.Magnitude;
        bool grows = s.Real > Math.Max(10 * blur, Math.Max(SlowestGrowth, 1e-9 * s.Magnitude));
        double largest = right.AbsoluteMaximum().Magnitude;
        return new NaturalMode(s, grows, [.. right.Select(v => v / largest)], [.. shares.Select(p => p / total)]);
    }

    private ReducedForm? _reduced;

    /// <summary>The return ratio of an op amp's input stage over frequency, quickly and to some nine digits: from the closed loop, by
    /// Sherman and Morrison's formula for what one transconductance changes.</summary>
    public Func<Complex, Complex> ReturnRatio(InputStage stage)
    {
        _reduced ??= new ReducedForm(_realG, _realC);
        var answer = _reduced.Answer(stage.Gain - _first, stage.Plus - _first, stage.Minus - _first);
        return s =>
        {
            Complex closed = stage.Siemens * answer(s), open = -closed / (1 + closed);
            return Complex.IsFinite(open) ? open : ReturnRatio(stage, s);
        };
    }

    /// <summary>
    /// The return ratio of an op amp's input stage at a complex frequency: its transconductance taken out of the matrix, and
    /// what its own current brings back to it.
    /// </summary>
    public Complex ReturnRatio(InputStage stage, Complex s)
    {
        int order = Order, gain = stage.Gain - _first;
        var open = new Complex[order * order];
        Fill(s, open, transposed: false);
        Add(stage.Plus, stage.Siemens);
        Add(stage.Minus, -stage.Siemens);
        var x = new Complex[order];
        x[gain] = 1;
        Solve(open, x);
        return -stage.Siemens * (Volts(stage.Plus) - Volts(stage.Minus));

        void Add(int row, double siemens)
        {
            if (row >= _first)
                open[gain * order + row - _first] += siemens;
        }

        Complex Volts(int row) => row >= _first ? x[row - _first] : 0;
    }

    /// <summary>Solves (G + s·C)·x = b in place, or the same with the matrix transposed.</summary>
    /// <param name="s">The complex frequency, rad/s.</param>
    /// <param name="b">The right side, then the solution; not numbers where the matrix is singular.</param>
    /// <param name="room">Room for the matrix, of the square of the order; destroyed.</param>
    /// <param name="transposed">Whether the matrix is transposed.</param>
    public void Solve(Complex s, Complex[] b, Complex[] room, bool transposed = false)
    {
        Fill(s, room, transposed);
        Solve(room, b);
    }

    private void Fill(Complex s, Complex[] m, bool transposed)
    {
        int order = Order;
        double[] conductances = _realG.AsColumnMajorArray(), capacitances = _realC.AsColumnMajorArray();
        for (int c = 0; c < order; c++)
        {
            for (int r = 0; r < order; r++)
                m[transposed ? c * order + r : r * order + c] = conductances[c * order + r] + s * capacitances[c * order + r];
        }
    }

    /// <summary>Solves m·x = b in place by elimination with the largest pivot of each column: most entries of a circuit's matrix are
    /// zero, and what is zero is passed over.</summary>
    /// <param name="m">The matrix, row after row; destroyed.</param>
    /// <param name="b">The right side, then the solution; not numbers where the matrix is singular.</param>
    private static void Solve(Complex[] m, Complex[] b)
    {
        int order = b.Length;
        for (int k = 0; k < order; k++)
        {
            int pivot = k;
            for (int r = k + 1; r < order; r++)
            {
                if (Size(m[r * order + k]) > Size(m[pivot * order + k]))
                    pivot = r;
            }
            if (pivot != k)
            {
                (b[k], b[pivot]) = (b[pivot], b[k]);
                for (int c = k; c < order; c++)
                    (m[k * order + c], m[pivot * order + c]) = (m[pivot * order + c], m[k * order + c]);
            }
            var row = m.AsSpan(k * order, order);
            for (int r = k + 1; r < order; r++)
            {
                if (m[r * order + k] == Complex.Zero)
                    continue;
                Complex share = m[r * order + k] / row[k];
                var below = m.AsSpan(r * order, order);
                for (int c = k + 1; c < order; c++)
                {
                    if (row[c] != Complex.Zero)
                        below[c] -= share * row[c];
                }
                b[r] -= share * b[k];
            }
        }
        for (int k = order - 1; k >= 0; k--)
        {
            for (int c = k + 1; c < order; c++)
                b[k] -= m[k * order + c] * b[c];
            b[k] /= m[k * order + k];
        }

        static double Size(Complex z) => Math.Abs(z.Real) + Math.Abs(z.Imaginary);
    }

    /// <summary>Name of an unknown, counted from the first.</summary>
    public string NameOf(int unknown) => _kernel.Topology.Wiring.Names[unknown + _first];
}
