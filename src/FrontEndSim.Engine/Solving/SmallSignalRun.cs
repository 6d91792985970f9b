using FrontEndSim.Engine.Results;
using Complex = System.Numerics.Complex;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Linearises the equations at the operating point and solves (G + jωC)·x = b at each frequency; noise by the adjoint:
/// one transposed solve gives the transfer from every current source to a node (Rohrer, Nagel, Meyer, Weber 1971).
/// </summary>
internal sealed class SmallSignalRun
{
    private readonly CompiledCircuit _compiled;
    private readonly Kernel<Scalar> _kernel;
    private readonly OperatingPoint _point;
    private readonly Linearisation _linear;
    private readonly int _first;

    public SmallSignalRun(CompiledCircuit compiled, IReadOnlyList<VariedNumber> varied, IReadOnlyList<double> values,
        CancellationToken cancel)
    {
        _compiled = compiled;
        _kernel = new Kernel<Scalar>(compiled.Topology);
        foreach (var (number, value) in varied.Zip(values))
        {
            var (device, parameter) = compiled.Find(number);
            _kernel.Devices[device].Number(parameter) = new Scalar(value);
        }
        _kernel.Refresh();
        _first = compiled.Topology.Wiring.FirstUnknown;
        var rest = new OperatingPointSolver(_kernel, compiled.Settings, cancel);
        rest.Solve(0);
        _point = Readings.Take(_kernel, rest);
        _linear = new Linearisation(_kernel);
    }

    public SmallSignalResult Run(string source, IReadOnlyList<double> hertz, CancellationToken cancel)
    {
        double[] grid = [.. hertz];
        var (fixedPart, charge) = Excitation(source);
        var wiring = _compiled.Topology.Wiring;
        var response = new Complex[grid.Length][];
        int order = _linear.Order;
        Complex[] x = new Complex[order], room = new Complex[order * order];
        for (int k = 0; k < grid.Length; k++)
        {
            cancel.ThrowIfCancellationRequested();
            Complex s = new(0, 2 * Math.PI * grid[k]);
            for (int r = 0; r < order; r++)
                x[r] = -(fixedPart[r + _first] + s * charge[r + _first]);
            _linear.Solve(s, x, room);
            response[k] = new Complex[wiring.NodeCount];
            for (int r = 0; r < wiring.NodeCount; r++)
                response[k][r] = r >= _first ? x[r - _first] : _drivenResponse[r];
        }
        var nodes = Enumerable.Range(0, wiring.NodeCount).ToDictionary(r => wiring.Names[r]);
        return new SmallSignalResult(source, grid, _point, nodes, response, node => Noise(node, grid, cancel));
    }

    private double[] _drivenResponse = [];

    /// <summary>How f and q change with the source's value, all unknowns held: from the slopes at the operating point itself.</summary>
    private (double[] Static, double[] Charge) Excitation(string source)
    {
        var device = _kernel.Devices[_compiled.SourceIndex(source)];
        var wiring = _compiled.Topology.Wiring;
        var f = new Scalar[wiring.Size];
        ((IDrive<Scalar>)device).AddSensitivity(_kernel.At, f);
        double[] fixedPart = [.. f.Select(v => v.Value)], charge = new double[wiring.Size];
        _drivenResponse = new double[_first];
        foreach (var (row, driver) in wiring.Drivers.Where(d => d.Source == device.Part))
        {
            _drivenResponse[row] = (driver.To == Circuit.Ground ? 1 : -1) * ((IDrive<Scalar>)device).Gain(0).Value;
            _kernel.AddColumn(row, _drivenResponse[row], fixedPart, charge);
        }
        return (fixedPart, charge);
    }

    private NoiseSpectrum Noise(string node, double[] grid, CancellationToken cancel)
    {
        int row = _compiled.Topology.Wiring.Node(node) - _first;
        var sources = _kernel.Devices.SelectMany(d => d.Noise(_kernel.At, _kernel.Kelvin).Select(n => (d.Part.Name, Source: n))).ToArray();
        var byPart = sources.Select(s => s.Name).Distinct().ToDictionary(name => name, _ => new double[grid.Length]);
        var density = new double[grid.Length];
        int order = _linear.Order;
        Complex[] y = new Complex[order], room = new Complex[order * order];
        for (int k = 0; k < grid.Length && row >= 0; k++)
        {
            cancel.ThrowIfCancellationRequested();
            Complex s = new(0, 2 * Math.PI * grid[k]);
            Array.Clear(y);
            y[row] = 1;
            _linear.Solve(s, y, room, transposed: true);
            foreach (var (name, source) in sources)
            {
                Complex transfer = To(source.From) - To(source.To);
                double power = (transfer * Complex.Conjugate(transfer)).Real * source.AmpsSquaredPerHertz;
                byPart[name][k] += power;
                density[k] += power;
            }
            density[k] = Math.Sqrt(density[k]);

            Complex To(int r) => r >= _first ? y[r - _first] : 0;
        }
        return new NoiseSpectrum(grid, density, byPart.ToDictionary(p => p.Key, p => (IReadOnlyList<double>)p.Value));
    }
}
