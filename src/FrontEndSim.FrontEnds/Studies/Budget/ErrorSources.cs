using System.Collections.Immutable;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>The sources of error in a front end's parts, and the numbers of the circuit that they act on: draws of a sweep set them through this.</summary>
internal sealed class ErrorSources
{
    private readonly double _celsius;

    /// <summary>Those of a front end.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="settings">What is assumed where the file says nothing.</param>
    public ErrorSources(FrontEnd frontEnd, BudgetSettings settings)
    {
        All = [.. BudgetSources.Of(frontEnd, settings)];
        Numbers = [.. All.SelectMany(s => s.Numbers).Distinct()];
        _celsius = frontEnd.Celsius;
    }

    /// <summary>The sources.</summary>
    public ImmutableArray<BudgetSource> All { get; }

    /// <summary>Each number that a source acts on, once.</summary>
    public ImmutableArray<VariedNumber> Numbers { get; }

    /// <summary>Draws of each source alone: draw 0 is nominal, then each source at its lower and at its upper limit.</summary>
    public int DrawsOfEachAlone => 1 + 2 * All.Length;

    /// <summary>Sets the numbers of a draw of <see cref="DrawsOfEachAlone"/>.</summary>
    public void SetEachAlone(int draw, Span<double> numbers)
    {
        if (draw == 0)
            return;
        var source = All[(draw - 1) / 2];
        Apply(source, draw % 2 == 1 ? source.Quantity.Distribution.Low : source.Quantity.Distribution.High, _celsius, numbers);
    }

    /// <summary>Sets the numbers from a value for every source, in the order of <see cref="All"/>; more values may follow.</summary>
    public void SetAll(ReadOnlySpan<double> values, double celsius, Span<double> numbers)
    {
        for (int k = 0; k < All.Length; k++)
            Apply(All[k], values[k], celsius, numbers);
    }

    /// <summary>
    /// What each source does alone, from limit to limit, added to the nominal value: a bound to first order.
    /// </summary>
    /// <param name="resultOf">A result by its draw of <see cref="DrawsOfEachAlone"/>.</param>
    public (double Nominal, double Low, double High) Bound(Func<int, double> resultOf)
    {
        double nominal = resultOf(0), low = nominal, high = nominal;
        for (int s = 0; s < All.Length; s++)
        {
            double a = resultOf(1 + 2 * s) - nominal, b = resultOf(2 + 2 * s) - nominal;
            low += Math.Min(0, Math.Min(a, b));
            high += Math.Max(0, Math.Max(a, b));
        }
        return (nominal, low, high);
    }

    private void Apply(BudgetSource source, double value, double celsius, Span<double> numbers)
    {
        double kelvins = celsius + Constants.ZeroCelsius - Constants.ReferenceKelvin;
        foreach (var number in source.Numbers)
        {
            int n = Numbers.IndexOf(number);
            numbers[n] = source.Apply(numbers[n], value, kelvins);
        }
    }
}
