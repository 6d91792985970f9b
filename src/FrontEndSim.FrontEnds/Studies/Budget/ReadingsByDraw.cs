using System.Runtime.InteropServices;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>
/// The readings of a pin at one temperature by the values of the sources of error. What was solved is kept: corners that differ only in
/// what is no part of the circuit, and draws that are looked at again for another temperature, are solved once.
/// </summary>
/// <param name="trials">The circuit at that temperature, swept over the places of the budget.</param>
/// <param name="pin">The pin.</param>
/// <param name="sources">The sources of error that act on the circuit: the first of the values of a draw.</param>
/// <param name="celsius">The temperature, °C.</param>
/// <param name="cancel">Stops the solver.</param>
internal sealed class ReadingsByDraw(TrialSweep trials, Pin pin, ErrorSources sources, double celsius, CancellationToken cancel)
    : IEqualityComparer<double[]>
{
    private Dictionary<double[], double[]>? _kept;

    /// <summary>The values of each draw: what it sets, and else their means.</summary>
    public static double[][] Drawn(double[] means, int draws, TrialNumbers set)
    {
        var drawn = new double[draws][];
        for (int draw = 0; draw < draws; draw++)
        {
            drawn[draw] = [.. means];
            set(draw, drawn[draw]);
        }
        return drawn;
    }

    /// <summary>Readings without rounding, by draw and place, from the values of each draw.</summary>
    public double[][] Of(double[][] values)
    {
        _kept ??= new(this);
        var missing = new List<double[]>();
        foreach (double[] draw in values)
        {
            if (_kept.TryAdd(draw, []))
                missing.Add(draw);
        }
        if (missing.Count > 0)
            Solve(missing);
        return [.. values.Select(v => _kept[v])];
    }

    private void Solve(List<double[]> draws)
    {
        var solved = trials.Run(draws.Count, (draw, numbers) => sources.SetAll(draws[draw], celsius, numbers), cancel: cancel);
        int draw = 0, place = 0;
        Func<string, double> railVolts = rail => solved.Voltage(draw, rail)[place]; // one for all draws
        for (; draw < draws.Count; draw++)
        {
            var volts = solved.Voltage(draw, pin.Node);
            var readings = new double[volts.Length];
            for (place = 0; place < readings.Length; place++)
                readings[place] = pin.Converter?.Counts(volts[place], railVolts) ?? volts[place] * 1e3;
            _kept![draws[draw]] = readings;
        }
    }

    bool IEqualityComparer<double[]>.Equals(double[]? a, double[]? b) => Key(a!).SequenceEqual(Key(b!));

    int IEqualityComparer<double[]>.GetHashCode(double[] values)
    {
        var hash = new HashCode();
        hash.AddBytes(Key(values));
        return hash.ToHashCode();
    }

    private ReadOnlySpan<byte> Key(double[] values) => MemoryMarshal.AsBytes(values.AsSpan(0, sources.All.Length));
}
