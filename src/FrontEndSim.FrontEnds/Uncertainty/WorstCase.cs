namespace FrontEndSim.FrontEnds.Uncertainty;

/// <summary>How far an output quantity can go when every input stands at one of its two limits.</summary>
/// <param name="Low">The lowest value.</param>
/// <param name="High">The highest value.</param>
/// <param name="IsExact">
/// Whether every corner was evaluated but those of inputs that change nothing. If not, those of the most influential inputs were, and the
/// others' effects at the two
/// worst of them are added in full: a bound to first order in those others.
/// </param>
/// <param name="Corners">How many corners were evaluated.</param>
public sealed record WorstCase(double Low, double High, bool IsExact, int Corners)
{
    // An input that moves the output by less than this share of its range changes nothing.
    private const double Negligible = 1e-9;

    /// <summary>Evaluates the corners.</summary>
    /// <param name="function">The measurement function.</param>
    /// <param name="inputs">Its input quantities, in its order.</param>
    /// <param name="mostInputs">How many inputs are varied together at most, from 1 to 20: 2 to that power corners.</param>
    /// <returns>One for each output of the function.</returns>
    public static ImmutableArray<WorstCase> Of(MeasurementFunction function, IReadOnlyList<InputQuantity> inputs, int mostInputs = 12)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(mostInputs, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(mostInputs, 20);
        // What each input does alone, from limit to limit.
        double[][] alone = function(2 * inputs.Count + 1, (draw, values) =>
        {
            for (int k = 0; k < inputs.Count; k++)
                values[k] = draw > 0 && (draw - 1) / 2 == k ? Limit(inputs[k], draw % 2 == 0) : inputs[k].Distribution.Mean;
        });
        int outputs = alone[0].Length;
        return [.. Enumerable.Range(0, outputs).GroupBy(output => string.Join(',', Leading(output))).SelectMany(group =>
        {
            int[] leading = [.. Leading(group.First())];
            return Enumerate(function, inputs, leading, [.. group]);
        }).OrderBy(w => w.Output).Select(w => w.Worst)];

        IEnumerable<int> Leading(int output) => Enumerable.Range(0, inputs.Count)
            .Select(k =>
                (Input: k, Effect: Math.Max(Math.Abs(alone[2 * k + 1][output] - alone[0][output]),
                Math.Abs(alone[2 * k + 2][output] - alone[0][output]))))
            .Where(e => e.Effect > 0).OrderByDescending(e => e.Effect).Take(mostInputs).Select(e => e.Input).Order();
    }

    private static IEnumerable<(int Output, WorstCase Worst)> Enumerate(MeasurementFunction function, IReadOnlyList<InputQuantity> inputs,
        int[] leading, int[] outputs)
    {
        int corners = 1 << leading.Length;
        double[][] values = function(corners, Set);
        int[] rest = [.. Enumerable.Range(0, inputs.Count).Except(leading)];
        foreach (int output in outputs)
        {
            int lowest = Array.IndexOf(values, values.MinBy(v => v[output])), highest = Array.IndexOf(values, values.MaxBy(v => v[output]));
            double below = 0, above = 0, most = 0;
            if (rest.Length > 0)
            {
                // Every other input at each of its limits, at the two worst corners.
                double[][] single = function(4 * rest.Length, (draw, set) =>
                {
                    Set(draw < 2 * rest.Length ? lowest : highest, set);
                    int input = rest[draw % (2 * rest.Length) / 2];
                    set[input] = Limit(inputs[input], draw % 2 == 1);
                });
                for (int k = 0; k < rest.Length; k++)
                {
                    below += Math.Min(0, Math.Min(single[2 * k][output], single[2 * k + 1][output]) - values[lowest][output]);
                    int up = 2 * (rest.Length + k);
                    most = new[] { most, Math.Abs(single[2 * k][output] - values[lowest][output]),
                        Math.Abs(single[2 * k + 1][output] - values[lowest][output]),
                        Math.Abs(single[up][output] - values[highest][output]),
                            Math.Abs(single[up + 1][output] - values[highest][output]) }.Max();
                    above += Math.Max(0, Math.Max(single[up][output], single[up + 1][output]) - values[highest][output]);
                }
            }
            bool exact = most <= Negligible * (values[highest][output] - values[lowest][output]);
            yield return (output, new WorstCase(values[lowest][output] + below, values[highest][output] + above, exact, corners));
        }

        void Set(int corner, Span<double> set)
        {
            for (int k = 0; k < inputs.Count; k++)
                set[k] = inputs[k].Distribution.Mean;
            for (int k = 0; k < leading.Length; k++)
                set[leading[k]] = Limit(inputs[leading[k]], (corner >> k & 1) == 1);
        }
    }

    private static double Limit(InputQuantity input, bool upper) => upper ? input.Distribution.High : input.Distribution.Low;
}
