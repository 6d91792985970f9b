using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>From a front end to the bench: what to buy, how to put it together, what to measure, what to write into the firmware.</summary>
public static class BuildStudy
{
    /// <summary>Makes the sheet.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="meter">The meter at the bench; null for one of 0.5 % and 10 Mohm.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static BuildResult Run(FrontEnd frontEnd, BenchMeter? meter = null,
        IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), meter, progress, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, BenchMeter, IProgress{StudyProgress}, CancellationToken)"/>
    public static BuildResult Run(SolvedFrontEnd solved, BenchMeter? meter = null,
        IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        meter ??= new BenchMeter();
        progress?.Report(new(0, "events"));
        var check = CheckStudy.Run(solved, cancel: cancel);
        progress?.Report(new(0.5, "parts"));
        var parts = BuildParts.List(solved, cancel);
        progress?.Report(new(0.6, "bench points"));
        var points = Points(solved, meter, cancel);
        progress?.Report(new(0.9, "firmware"));
        ImmutableArray<FirmwareConstants> firmware =
        [
            // A pin that is read together with others says nothing alone.
            .. from m in check.Mappings.Where(m => m.Points[0].Code >= 0
                && !frontEnd.Readings.Any(r => r.Formula is not null && r.Pins.Contains(m.Pin)))
               let made = BuildFirmware.Of(frontEnd, m)
               where made is not null
               select made with { Valid = solved.Band(m, cancel) },
        ];
        return new(frontEnd.Title, parts, BuildParts.Steps(frontEnd), points, meter, firmware, check.Cautions)
        {
            Alternating = [.. frontEnd.AlternatingReadings.Select(r => FirmwareAlternating.Of(solved, r, cancel))],
            Counted = [.. FirmwareCounted.Of(frontEnd)],
            Combined =
            [
                .. frontEnd.Readings.Select(r => FirmwareCombined.Of(solved, r, firmware, cancel) with
                {
                    Valid = r.Formula is null ? []
                        : [.. check.Mappings.Where(m => r.Pins.Contains(m.Pin) && m is { Back: not null, Reading: not null })
                            .Select(m => solved.Band(m, cancel))],
                }),
            ],
            HighestRailVolts = frontEnd.Rails.Select(r => Math.Abs(r.Volts.Value)).DefaultIfEmpty(0).Max(),
        };
    }

    /// <summary>Rails first, then for the ends and the middle of each sensor's span every output on the way to the pin.</summary>
    private static ImmutableArray<BenchPoint> Points(SolvedFrontEnd solved, BenchMeter meter, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var points = ImmutableArray.CreateBuilder<BenchPoint>();
        foreach (var rail in frontEnd.Rails)
        {
            double volts = rail.Volts.Value, error = meter.ErrorVolts(volts);
            points.Add(new(null, null, rail.Name, BenchPlace.Rail, rail.Name, volts, rail.Volts.Least - error, rail.Volts.Most
                + error, null));
        }
        string[] nodes = [.. Places(frontEnd).Select(p => p.Node)];
        // A charge and a capacitance show nothing to a meter at rest.
        foreach (var sensor in frontEnd.Sensors.Where(s => s.ShowsAtRest))
        {
            double[] at = sensor.HasStates ? [0, 1] : [sensor.Span.Low, sensor.Span.Middle, sensor.Span.High];
            var read = solved.ReadingOf(sensor.Name);
            var standing = CombinedStudy.Standing(read, sensor.Name);
            var alone = NodeSpread.Of(read, sensor.Name, at, nodes, standing, cancel);
            var bare = read.WithoutLeakage();
            var unloaded = bare.Compiled(standing).Sweep(sensor.Name, at, cancel: cancel);
            foreach (var (node, place, of) in Places(frontEnd))
            {
                // The meter at this node alone.
                double[] Loaded(SolvedFrontEnd of) => of.Compiled(standing, meter.At(node)).Sweep(sensor.Name, at, cancel: cancel)
                    .Voltage(node);
                double[] loaded = Loaded(read), middle = bare == read ? loaded : Loaded(bare);
                int column = Array.IndexOf(nodes, node);
                var pin = frontEnd.Pins.FirstOrDefault(p => p.Node == node && p.Converter is not null);
                for (int k = 0; k < at.Length; k++)
                {
                    double error = meter.ErrorVolts(loaded[k]), nominal = alone.Expected[k][column];
                    points.Add(new(sensor.Name, at[k], node, place, of, middle[k],
                        loaded[k] + (alone.Low[k][column] - nominal) - error, loaded[k] + (alone.High[k][column] - nominal) + error,
                        pin?.Converter is { } c ? c.Code(c.Counts(unloaded.Voltage(node)[k], frontEnd.Rails)) : null)
                    {
                        SensorUnit = sensor.UnitText,
                        Channel = place == BenchPlace.Pin ? frontEnd.Pins.FirstOrDefault(p => p.Node == node && p.Channel is not null
                            && SignalPath.SensorOf(frontEnd, p)?.Name == sensor.Name)?.Channel : null,
                        StandIn = sensor.IsVoltage || sensor.Wiring is not null ? null : sensor.OutputAt(at[k], frontEnd.Celsius),
                        StandInUnit = sensor.Output.Symbol,
                    });
                }
            }
        }
        return points.ToImmutable();
    }

    /// <summary>Sensors' terminals, op amp outputs and pins, in the order of the signal.</summary>
    private static IEnumerable<(string Node, BenchPlace Place, string Of)> Places(FrontEnd frontEnd)
    {
        var seen = new HashSet<string>(frontEnd.Rails.Select(r => r.Name)) { Circuit.Ground };
        foreach (var sensor in frontEnd.Sensors)
        {
            foreach (string node in sensor.Nodes.Where(seen.Add))
                yield return (node, BenchPlace.Terminal, sensor.Name);
        }
        foreach (var part in frontEnd.AllParts)
        {
            if (part.Amplifier is { } amp && seen.Add(amp.Output))
                yield return (amp.Output, BenchPlace.AmplifierOutput, part.Name);
        }
        // A template may leave its output open: there is nothing to measure then.
        var wired = frontEnd.AllParts.SelectMany(p => p.Nodes).ToHashSet();
        foreach (var stage in frontEnd.Stages)
        {
            foreach (var port in stage.Ports.Where(p => p.Role == "to" && wired.Contains(p.Node)))
            {
                if (frontEnd.Pins.All(p => p.Node != port.Node) && seen.Add(port.Node))
                    yield return (port.Node, BenchPlace.StageOutput, stage.Name);
            }
        }
        foreach (var pin in frontEnd.Pins)
        {
            if (seen.Add(pin.Node))
                yield return (pin.Node, BenchPlace.Pin, pin.Name);
        }
    }
}
