using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>The sources of error in a front end's parts, and the numbers of the circuit that they act on: draws of a sweep set them
/// through this.</summary>
internal sealed class ErrorSources
{
    private readonly double _celsius;
    private readonly int[][] _places; // of each source's numbers in Numbers

    /// <summary>Those of a front end.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="assumed">What is taken where a part's own numbers say nothing; null for the usual.</param>
    public ErrorSources(FrontEnd frontEnd, AssumedSpread? assumed = null)
    {
        assumed ??= new();
        All =
        [
            .. frontEnd.Rails.SelectMany(r => IsLeftOut(r.Name)
                ? Taken(Of(r with { Volts = r.Volts with { Tolerance = UsualSpread.Rail.Amount } }, assumed), r.Name, UsualSpread.Rail)
                : Of(r, assumed)),
            .. frontEnd.Sensors.SelectMany(s => s.ErrorSources()),
            .. frontEnd.AllParts.Select(p => (Part: p.At(frontEnd.Celsius), Usual: IsLeftOut(p.Name) ? p.UsualTolerance : null))
                .SelectMany(p => p is { Usual: { } usual, Part.Value: { } value }
                    ? Taken(p.Part.WithValue(value.Amount with { Tolerance = usual.Amount }).ErrorSources(assumed), p.Part.Name, usual)
                    : p.Part.ErrorSources(assumed)),
            .. frontEnd.Pins.Where(p => p.LeakageAmps != 0).Select(Leakage),
            .. frontEnd.Pins.Where(p => p.Load is not null).SelectMany(p => ErrorSource.Scale(p.LoadName + " resistance", ErrorKind.Leakage,
                InputLoad.Spread, new VariedNumber(p.LoadName, Resistor.Resistance))),
        ];
        Numbers = [.. All.SelectMany(s => s.Numbers).Distinct()];
        _places = [.. All.Select(s => s.Numbers.Select(n => Numbers.IndexOf(n)).ToArray())];
        _celsius = frontEnd.Celsius;

        bool IsLeftOut(string name) => frontEnd.WithoutTolerance.Contains(name);
    }

    // What is taken is said wherever the source is.
    private static IEnumerable<ErrorSource> Taken(IEnumerable<ErrorSource> sources, string name, UsualSpread usual) =>
        sources.Select(s => s.Name == name + " tolerance" ? s with { Name = $"{s.Name} ({usual.Text} taken)" } : s);

    /// <summary>The sources.</summary>
    public ImmutableArray<ErrorSource> All { get; }

    /// <summary>Each number that a source acts on, once.</summary>
    public ImmutableArray<VariedNumber> Numbers { get; }

    /// <summary>Draws of each source alone: draw 0 is nominal, then each source at its lower and at its upper limit.</summary>
    public int DrawsOfEachAlone => 1 + 2 * All.Length;

    /// <summary>Sets the numbers of a draw of <see cref="DrawsOfEachAlone"/>.</summary>
    public void SetEachAlone(int draw, Span<double> numbers)
    {
        if (draw == 0)
            return;
        int source = (draw - 1) / 2;
        var distribution = All[source].Distribution;
        Apply(source, draw % 2 == 1 ? distribution.Low : distribution.High, _celsius, numbers);
    }

    /// <summary>Sets the numbers from a value for every source, in the order of <see cref="All"/>; more values may follow.</summary>
    public void SetAll(ReadOnlySpan<double> values, double celsius, Span<double> numbers)
    {
        for (int k = 0; k < All.Length; k++)
            Apply(k, values[k], celsius, numbers);
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

    /// <summary>What a source does alone at most, as a magnitude.</summary>
    /// <param name="source">Its place among <see cref="All"/>.</param>
    /// <param name="resultOf">A result by its draw of <see cref="DrawsOfEachAlone"/>.</param>
    public static double Effect(int source, Func<int, double> resultOf) =>
        Math.Max(Math.Abs(resultOf(1 + 2 * source) - resultOf(0)), Math.Abs(resultOf(2 + 2 * source) - resultOf(0)));

    /// <summary>
    /// Each source at the limit that alone brings a result furthest one way, at its mean where both bring it back: values for
    /// <see cref="SetAll"/>.
    /// </summary>
    /// <param name="upwards">Whether the largest result is looked for, else the least.</param>
    /// <param name="resultOf">A result by its draw of <see cref="DrawsOfEachAlone"/>.</param>
    public double[] Corner(bool upwards, Func<int, double> resultOf) =>
    [
        .. All.Select((source, s) => Furthest(s, upwards, resultOf) switch
        {
            true => source.Distribution.High,
            false => source.Distribution.Low,
            null => source.Distribution.Mean,
        }),
    ];

    /// <summary>Whether a source is at its upper or at its lower limit where a result is furthest one way; null where both bring it
    /// back.</summary>
    /// <param name="source">Its place among the sources.</param>
    /// <param name="upwards">Whether the largest result is looked for, else the least.</param>
    /// <param name="resultOf">A result by its draw of each source alone.</param>
    public static bool? Furthest(int source, bool upwards, Func<int, double> resultOf)
    {
        int sign = upwards ? 1 : -1;
        double low = sign * (resultOf(1 + 2 * source) - resultOf(0)), high = sign * (resultOf(2 + 2 * source) - resultOf(0));
        // What stands at a limit already, as the leakage of a pin does, goes no further there but for rounding.
        return Math.Max(low, high) < -1e-6 * Math.Abs(Math.Min(low, high)) ? null : high > low;
    }

    private static IEnumerable<ErrorSource> Of(Rail rail, AssumedSpread assumed)
    {
        VariedNumber scale = new(rail.Name, VoltageSource.Scale);
        double tempCo = rail.Volts.TempCo ?? assumed.RailTempCo;
        return
        [
            .. ErrorSource.Scale(rail.Name + " tolerance", ErrorKind.Rail, rail.Volts.Tolerance, scale),
            .. tempCo == 0 ? Array.Empty<ErrorSource>()
                : [new(rail.Name + " drift", ErrorSource.Limits(tempCo), ErrorKind.Rail, [scale], (now, x, kelvins) =>
                    now * (1 + x * kelvins))],
        ];
    }

    // A leakage current is a limit for either direction.
    private static ErrorSource Leakage(Pin pin) =>
        new(pin.Name + " leakage", ErrorSource.Limits(1), ErrorKind.Leakage, [new(pin.Name + ".leakage", InputLeakage.Scale)], (_, x, _) =>
            x);

    private void Apply(int source, double value, double celsius, Span<double> numbers)
    {
        double kelvins = celsius + Constants.ZeroCelsius - Constants.ReferenceKelvin;
        foreach (int n in _places[source])
            numbers[n] = All[source].Apply(numbers[n], value, kelvins);
    }
}
