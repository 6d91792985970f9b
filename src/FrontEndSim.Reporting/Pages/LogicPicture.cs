using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.Reporting.Plots;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>A logic pin's changes as panels: the pin between its levels, and the gate's output.</summary>
public static class LogicPicture
{
    private const int Points = 1000;

    /// <summary>A panel for each change.</summary>
    public static ImmutableArray<Panel> Panels(LogicResult r) => [.. r.Edges.Select(e => Panel(r, e))];

    /// <summary>A pin over its sensor's span: between its guaranteed levels where it is a logic pin, else within its rating.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="sweep">The sweep of the sensor.</param>
    public static Panel Over(Sensor sensor, Pin pin, SweepResult sweep)
    {
        ImmutableArray<double> across = [.. sweep.Values];
        var bands = RatingBand.Of(pin, across, sweep.Voltage);
        if (pin.Logic is { } logic)
        {
            var supply = sweep.Voltage(logic.Rail);
            ImmutableArray<double> low = [.. supply.Select(v => logic.LowBelow(v))], high = [.. supply.Select(v => logic.HighAbove(v))];
            bands =
            [
                new(across, null, new BandEdge($"guaranteed low (VIL) below {Figures.Volts(low[0], 3)}", low)) { IsLimit = false },
                new(across, new BandEdge($"guaranteed high (VIH) above {Figures.Volts(high[0], 3)}", high), null) { IsLimit = false },
            ];
        }
        return new Panel($"Sensor {sensor.Name} onto pin {pin.Name}", new("sensor " + sensor.Name, sensor.UnitText),
            new("pin " + pin.Name, "V"), [new("", across, [.. sweep.Voltage(pin.Node)], CurveLook.Simulated)])
        { Bands = bands };
    }

    private static Panel Panel(LogicResult r, LogicEdge e)
    {
        // Past the gate's change by as much as it took to get there; the rest of the run is flat.
        double last = new[] { e.PinDelaySeconds, e.GateDelaySeconds }.Where(double.IsFinite).DefaultIfEmpty(double.PositiveInfinity).Max();
        double end = Math.Min(e.Trace.End, e.Start + (last > 0 ? 1.6 * last : double.PositiveInfinity));
        ImmutableArray<double> times = [.. Enumerable.Range(0, Points + 1).Select(k => end * k / Points)];
        ImmutableArray<double> Flat(double volts) => [.. times.Select(_ => volts)];
        string changes = e.Changes == 1 ? "one change of the gate" : $"{e.Changes} changes of the gate";
        return new Panel($"Sensor {r.Sensor} {(e.IsSudden ? "jumps" : "changes slowly")}, pin {(e.Rises ? "rises" : "falls")}: {changes}",
            new("time", "s"), new("pin " + r.Pin.Name, "V"),
            [new("gate", times, [.. e.Gate.Sample(times)], CurveLook.Ideal),
                new("pin", times, [.. e.Trace.Sample(times)], CurveLook.Simulated)])
        {
            // Between the two bands either level may be read.
            Bands = [new(times, null, new BandEdge($"guaranteed low below {Figures.Volts(r.Low.LimitVolts, 3)}", Flat(r.Low.LimitVolts))) {
                IsLimit = false }, new(times, new BandEdge($"guaranteed high above {Figures.Volts(r.High.LimitVolts, 3)}",
                Flat(r.High.LimitVolts)), null) { IsLimit = false }],
            Notes = double.IsFinite(e.GateDelaySeconds)
                ? [new($"gate after {Figures.Time(e.GateDelaySeconds)}", e.Start
                    + e.GateDelaySeconds, e.Trace.At(e.Start + e.GateDelaySeconds))] : [],
            Share = 0.8,
        };
    }
}
