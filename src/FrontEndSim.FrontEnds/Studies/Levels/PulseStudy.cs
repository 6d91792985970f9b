using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Levels;

/// <summary>How a logic pin passes a sensor's pulses where they come most often.</summary>
/// <param name="Quantity">What is measured, in a word.</param>
/// <param name="Unit">Symbol of its unit.</param>
/// <param name="AtValue">Where the pulses come most often, in that unit.</param>
/// <param name="Hertz">How often, Hz.</param>
/// <param name="CountUnits">What a pulse more in the time of counting stands for, in that unit; null where it is not said how long is
/// counted.</param>
/// <param name="Passages">Each share of a period that a pulse may take, with parts nominal and at both ends of their tolerance.</param>
public sealed record PulsesResult(string Quantity, string Unit, double AtValue, double Hertz, double? CountUnits,
    ImmutableArray<PulsePassage> Passages)
{
    /// <summary>The passage that is not counted rightly, or else leaves the shortest time at a level.</summary>
    public PulsePassage Worst => Passages.MinBy(p => (p.IsCounted, p.LevelSeconds))!;
}

/// <summary>Pulses on their way to a pin.</summary>
/// <param name="Duty">How much of a period a pulse takes at the sensor, a fraction.</param>
/// <param name="Parts">Where the parts stand in their tolerances.</param>
/// <param name="ChangesInPeriod">How often the gate of the family with least hysteresis changes in a period: 2 where each pulse is counted
/// once.</param>
/// <param name="HighSeconds">The shortest that the pin is above the level that any gate reads as high in a period, s.</param>
/// <param name="LowSeconds">The shortest that it is below the level that any gate reads as low, s.</param>
public sealed record PulsePassage(double Duty, TolerancePlace Parts, double ChangesInPeriod, double HighSeconds, double LowSeconds)
{
    /// <summary>The shorter of the two.</summary>
    public double LevelSeconds => Math.Min(HighSeconds, LowSeconds);

    /// <summary>Whether every gate of the family counts each pulse once.</summary>
    public bool IsCounted => ChangesInPeriod == 2 && LevelSeconds > 0;
}

/// <summary>Where parts stand in their tolerances.</summary>
public enum TolerancePlace
{
    /// <summary>At their values.</summary>
    Nominal,

    /// <summary>All at the lower end.</summary>
    Low,

    /// <summary>All at the upper end.</summary>
    High,
}

/// <summary>Whether pulses reach a counter: the circuit is followed in time at the highest frequency, its gate with it.</summary>
internal static class PulseStudy
{
    // Periods that are run, and of these the last that are looked at.
    private const int Periods = 12, Looked = 4;

    public static PulsesResult? Of(SolvedFrontEnd solved, Pin pin, LogicLevels logic, Sensor sensor, double supply,
        CancellationToken cancel)
    {
        if (sensor.Pulses is not { } train)
            return null;
        (double Duty, TolerancePlace Parts)[] cases = [.. from duty in train.Duties
                                                         from parts in Enum.GetValues<TolerancePlace>() select (duty, parts)];
        var found = new PulsePassage[cases.Length];
        OnAllCores.For(cases.Length, cancel, k =>
            found[k] = Passage(solved, pin, logic, sensor, train.MostHertz, cases[k].Duty, cases[k].Parts, supply, cancel));
        return new(train.Quantity, train.UnitText, train.MostAt, train.MostHertz,
            pin.Counting is { } counting ? Math.Abs(train.UnitsPerHertz) / counting.GateSeconds : null, [.. found]);
    }

    private static PulsePassage Passage(SolvedFrontEnd solved, Pin pin, LogicLevels logic, Sensor sensor, double hertz, double duty,
        TolerancePlace place, double supply, CancellationToken cancel)
    {
        string gate = pin.Name + ".gate", output = gate + " output";
        var wave = PulseTrain.Pulses(hertz, duty, Periods, sensor.Contact);
        var run = At(solved, place).Compiled(elements =>
        [
            .. elements.Select(e => Sensor.Following(e, sensor.Name, wave) ?? e),
            new LogicGate(gate, pin.Node, output, logic.Rail, Circuit.Ground, logic.Type.GateAtWorst!),
        ], SolvedFrontEnd.At(sensor.Name, 0), new SolverSettings { Keep = [pin.Node, output] }).RunTransient(Periods / hertz, cancel);
        double start = (Periods - Looked) / hertz;
        var volts = run.Voltage(pin.Node);
        int changes = run.Voltage(output).Crossings(supply / 2).Count(t => t >= start);
        return new(duty, place, changes / (double)Looked, Shortest(volts, logic.HighAbove(supply), 1, hertz),
            Shortest(volts, logic.LowBelow(supply), -1, hertz));
    }

    /// <summary>How long a trace is beyond a level in that of the periods looked at in which it is so for the shortest, s.</summary>
    private static double Shortest(Trace trace, double level, int sign, double hertz)
    {
        var crossings = trace.Crossings(level);
        return Enumerable.Range(Periods - Looked, Looked).Min(k =>
        {
            double from = k / hertz, to = (k + 1) / hertz;
            double[] times = [from, .. crossings.Where(t => t > from && t < to), to];
            return times.Zip(times.Skip(1)).Where(t => sign * (trace.At(0.5 * (t.First + t.Second)) - level) > 0)
                .Sum(t => t.Second - t.First);
        });
    }

    private static SolvedFrontEnd At(SolvedFrontEnd solved, TolerancePlace place)
    {
        if (place == TolerancePlace.Nominal)
            return solved;
        var moved = solved.FrontEnd.WithUsualTolerances();
        foreach (var part in moved.AllParts.ToArray())
            moved = part.AtTolerance(place == TolerancePlace.High) is { } end ? moved.Replace(part, end.Part) : moved;
        return solved.With(moved);
    }
}
