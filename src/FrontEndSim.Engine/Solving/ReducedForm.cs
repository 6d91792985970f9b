using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;
using Complex = System.Numerics.Complex;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// G + s·C reduced once to a Hessenberg form of its states, so that many frequencies are solved quickly: with a shift σ it is
/// (G + σC)·(1 + (s − σ)·(G + σC)⁻¹·C), of which only the columns that hold charge differ from those of 1 (Laub, "Efficient multivariable
/// frequency response computations", IEEE Trans. Automatic Control 26 (1981)). The shift lies between slow and fast modes; what is left of
/// digits at either end is enough to look for a frequency, not to state what is found there.
/// </summary>
internal sealed class ReducedForm
{
    private const double Shift = 1e5;

    private readonly LU<double> _shifted;
    private readonly int[] _states;
    private readonly double[][] _hessenberg; // by row
    private readonly Matrix<double> _turn, _through;

    /// <param name="g">The conductances.</param>
    /// <param name="c">The capacitances.</param>
    public ReducedForm(Matrix<double> g, Matrix<double> c)
    {
        _shifted = (g + Shift * c).LU();
        _states = [.. Enumerable.Range(0, c.ColumnCount).Where(k => c.Column(k).Any(v => v != 0))];
        if (_states.Length == 0)
        {
            (_hessenberg, _turn, _through) = ([], Matrix<double>.Build.Dense(1, 1), Matrix<double>.Build.Dense(c.RowCount, 1));
            return;
        }
        var charged = Matrix<double>.Build.DenseOfColumnVectors(_states.Select(c.Column));
        var all = _shifted.Solve(charged);
        var reduced = Matrix<double>.Build.DenseOfRowVectors(_states.Select(all.Row));
        (_hessenberg, _turn) = Hessenberg(reduced);
        _through = all * _turn;
    }

    /// <summary>How the voltage between two unknowns answers what flows into a row.</summary>
    /// <param name="into">The row.</param>
    /// <param name="plus">The first unknown; below 0 for none.</param>
    /// <param name="minus">The second unknown; below 0 for none.</param>
    public Func<Complex, Complex> Answer(int into, int plus, int minus)
    {
        int order = _hessenberg.Length;
        var unit = Vector<double>.Build.Dense(_through.RowCount);
        unit[into] = 1;
        var at = _shifted.Solve(unit);
        var turned = order == 0 ? [] : _turn.Transpose().Multiply(Vector<double>.Build.Dense(order, k => at[_states[k]])).ToArray();
        double direct = (plus < 0 ? 0 : at[plus]) - (minus < 0 ? 0 : at[minus]);
        double[] seen = [.. Enumerable.Range(0, order).Select(k =>
            (plus < 0 ? 0 : _through[plus, k]) - (minus < 0 ? 0 : _through[minus, k]))];
        var rows = new Complex[order * order];
        var x = new Complex[order];
        return s =>
        {
            Complex beyond = s - Shift;
            for (int r = 0; r < order; r++)
            {
                x[r] = turned[r];
                for (int k = Math.Max(0, r - 1); k < order; k++)
                    rows[r * order + k] = beyond * _hessenberg[r][k];
                rows[r * order + r] += 1;
            }
            SolveHessenberg(rows, x);
            Complex sum = 0;
            for (int k = 0; k < order; k++)
                sum += seen[k] * x[k];
            return direct - beyond * sum;
        };
    }

    /// <summary>Householder's reduction: H = Qᵀ·A·Q with nothing below the first subdiagonal (Golub and Van Loan, Matrix Computations,
    /// on the Hessenberg decomposition).</summary>
    private static (double[][] H, Matrix<double> Q) Hessenberg(Matrix<double> a)
    {
        int order = a.RowCount;
        var h = a.Clone();
        var q = Matrix<double>.Build.DenseIdentity(order);
        for (int k = 0; k + 2 < order; k++)
        {
            var mirror = Vector<double>.Build.Dense(order, r => r > k ? h[r, k] : 0);
            double length = mirror.L2Norm();
            if (length == 0)
                continue;
            mirror[k + 1] += mirror[k + 1] < 0 ? -length : length;
            mirror /= mirror.L2Norm();
            h -= 2 * mirror.OuterProduct(h.LeftMultiply(mirror));
            h -= 2 * (h * mirror).OuterProduct(mirror);
            q -= 2 * (q * mirror).OuterProduct(mirror);
        }
        return (h.ToRowArrays(), q);
    }

    // Row by row with the larger of two pivots.
    private static void SolveHessenberg(Complex[] m, Complex[] x)
    {
        int order = x.Length;
        for (int k = 0; k + 1 < order; k++)
        {
            var row = m.AsSpan(k * order, order);
            var below = m.AsSpan((k + 1) * order, order);
            if (Size(below[k]) > Size(row[k]))
            {
                for (int c = k; c < order; c++)
                    (row[c], below[c]) = (below[c], row[c]);
                (x[k], x[k + 1]) = (x[k + 1], x[k]);
            }
            if (below[k] == Complex.Zero)
                continue;
            Complex share = below[k] / row[k];
            for (int c = k + 1; c < order; c++)
                below[c] -= share * row[c];
            x[k + 1] -= share * x[k];
        }
        for (int k = order - 1; k >= 0; k--)
        {
            for (int c = k + 1; c < order; c++)
                x[k] -= m[k * order + c] * x[c];
            x[k] /= m[k * order + k];
        }

        static double Size(Complex z) => Math.Abs(z.Real) + Math.Abs(z.Imaginary);
    }
}
