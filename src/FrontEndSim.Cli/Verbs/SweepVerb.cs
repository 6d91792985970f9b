using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>sweep: how a sensor's span lands on the pins.</summary>
internal sealed class SweepVerb : Verb
{
    private const int UsualPoints = 21;

    private readonly Option<string?> _sensor =
        new("--sensor") { HelpName = "NAME", Description = "The sensor to sweep; the first in the file if not given." };
    private readonly QuantityOption _from = new("--from", Unit.Volts,
        "Where to begin, such as \"-1.2 V\", or \"20 C\" for a sensor of temperature; the lower end of the sensor's span if not given.");
    private readonly QuantityOption _to = new("--to", Unit.Volts, "Where to end; the upper end of the sensor's span if not given.");
    private readonly PointsOption _points = new($"How many evenly spaced values, both ends included; {UsualPoints} if not given.");
    private readonly ShowOption _show = new();
    private readonly PlotOption _plot = new("the mapping with the ideal line, the pin's rating and the error");

    public SweepVerb() : base("sweep", "Sweeps a sensor over its span and shows how it lands on the pin: voltage, ideal, counts, error.",
        "sweep circuits/rain-tank.fes --points 11 --plot mapping.png")
    {
        foreach (var option in new Option[] { _sensor, _from, _to, _points, _show, _plot })
            Options.Add(option);
    }

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        _plot.Check(line);
        var sensor = line.GetValue(_sensor) is { } name ? frontEnd.FindSensor(name)
            : frontEnd.Sensors is [var first, ..] ? first
            : throw new InputException("the circuit has no sensor to sweep");
        double from = _from.ValueIn(line, sensor.UnitText) ?? sensor.Span.Low, to = _to.ValueIn(line, sensor.UnitText) ?? sensor.Span.High;
        if (from >= to)
            throw new InputException(
                $"--from {SiText.Format(from, sensor.UnitText)} does not lie below --to {SiText.Format(to, sensor.UnitText)}");
        var solved = new SolvedFrontEnd(frontEnd) { BeginsSettled = true }.ReadingOf(sensor.Name);
        frontEnd = solved.FrontEnd;
        var sweep = solved.Sweep(sensor.Name, SweepStudy.Grid(from, to, line.GetValue(_points) ?? UsualPoints), cancel: cancel);
        var nodes = _show.Nodes(line, frontEnd, sweep.Points[0]);
        // The table keeps to the grid asked for; what is said of the whole is of the sensor's span, from a sweep that finds the bends.
        var mapped = frontEnd.Pins.Where(p => MappingStudy.Maps(frontEnd, p, sensor)).ToArray();
        MappingResult[] tables = [.. mapped.Select(p => MappingStudy.Of(solved, p, sensor, sweep, cancel))];
        MappingResult[] whole = [.. mapped.Select(p => MappingStudy.Run(solved, p.Name, sensor.Name, cancel: cancel))];
        if (_plot.IsWanted(line))
        {
            var fine = solved.Sweep(sensor.Name, SweepStudy.Grid(from, to, 101), refine: true, cancel);
            _plot.Write(line, [.. frontEnd.Pins.SelectMany(p =>
                mapped.Contains(p) ? MappingPicture.Panels(MappingStudy.Of(solved, p, sensor, fine, cancel), p)
                : [LogicPicture.Over(sensor, p, fine)])], cancel);
        }
        var swept = SensorSweep.Of(frontEnd.Title, sweep, nodes, [.. whole]) with
        {
            SensorUnit = sensor.UnitText,
            SettlesTo = solved.Settled(cancel: cancel)?.Length,
            Amplitudes = [.. frontEnd.AlternatingReadings.Where(r => r.Sensor == sensor.Name)
                .Select(r => AlternatingStudy.Run(solved, r, cancel))],
        };
        return Answer.Of(ExitCode.Met, SweepPage.Of(swept, tables, line.GetValue(_show) is not null), swept);
    }
}
