using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Solving;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

public class TimeMethodTests
{
    public static TheoryData<TimeMethod> Methods => [TimeMethod.SecondOrder, TimeMethod.ThirdOrder, TimeMethod.FourthOrder];

    /// <summary>
    /// The order conditions for rooted trees up to order 4: Butcher, Numerical Methods for Ordinary Differential Equations,
    /// §31.
    /// </summary>
    private static IEnumerable<(int Order, double Left)> Conditions(Tableau tableau, double[] b)
    {
        int stages = b.Length;
        double[][] a = [.. tableau.A.Select(row => row.Concat(new double[stages - row.Length]).ToArray())];
        double[] c = tableau.C, ac = Times(a, c);
        yield return (1, b.Sum() - 1);
        yield return (2, Dot(b, c) - 1 / 2.0);
        yield return (3, Dot(b, Power(c, 2)) - 1 / 3.0);
        yield return (3, Dot(b, ac) - 1 / 6.0);
        yield return (4, Dot(b, Power(c, 3)) - 1 / 4.0);
        yield return (4, Dot(b, [.. c.Zip(ac, (x, y) => x * y)]) - 1 / 8.0);
        yield return (4, Dot(b, Times(a, Power(c, 2))) - 1 / 12.0);
        yield return (4, Dot(b, Times(a, ac)) - 1 / 24.0);

        static double[] Power(double[] x, int p) => [.. x.Select(v => Math.Pow(v, p))];
        static double[] Times(double[][] m, double[] x) => [.. m.Select(row => Dot(row, x))];
        static double Dot(double[] x, double[] y) => x.Zip(y, (p, q) => p * q).Sum();
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void The_coefficients_satisfy_every_order_condition_up_to_the_methods_order(TimeMethod method)
    {
        var tableau = Tableau.Of(method);
        Assert.All(Conditions(tableau, tableau.A[^1]).Where(c => c.Order <= tableau.Order), c => Assert.Equal(0, c.Left, 1e-14));
        // The embedded weights of TR-BDF2 are of order 3, those of the other two one order below the method.
        int embedded = method == TimeMethod.SecondOrder ? 3 : tableau.Order - 1;
        Assert.All(Conditions(tableau, tableau.Embedded).Where(c => c.Order <= embedded), c => Assert.Equal(0, c.Left, 1e-14));
        Assert.Contains(Conditions(tableau, tableau.Embedded), c => c.Order == embedded + 1 && Math.Abs(c.Left) > 1e-6);
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Halving_the_step_divides_the_error_by_two_to_the_order(TimeMethod method)
    {
        // A parallel resonance driven by a current that starts gently, against its closed form; steps held at equal length.
        const double r = 50, l = 1e-3, c = 1e-6, amplitude = 1e-2, hertz = 3e3;
        double w = 2 * Math.PI * hertz, until = 4e-4;
        var circuit = new Circuit([
            new CurrentSource("I", "GND", "A", new Sine(0, amplitude, hertz)), new Resistor("R", "A", "GND", r),
            new Inductor("L", "A", "GND", l), new Capacitor("C", "A", "GND", c)]);
        double[] errors = [.. new[] { 100, 200, 400 }.Select(steps =>
        {
            var settings = new SolverSettings { Method = method, Accuracy = 1e3, LongestStep = until / steps };
            return Math.Abs(circuit.Compile(settings).RunTransient(until).Voltage("A").At(until) - Exact(until));
        })];
        int order = Tableau.Of(method).Order;
        Assert.InRange(Math.Log2(errors[0] / errors[1]), order - 0.35, order + 0.6);
        Assert.InRange(Math.Log2(errors[1] / errors[2]), order - 0.35, order + 0.6);

        // v'' + v'/(RC) + v/(LC) = (I·w/C)·cos(w·t), at rest at t = 0.
        double Exact(double t)
        {
            double a = 1 / (2 * r * c), w0 = 1 / (l * c), drive = amplitude * w / c, wd = Math.Sqrt(w0 - a * a);
            double p = w0 - w * w, q = 2 * a * w, d = p * p + q * q;
            double cosine = drive * p / d, sine = drive * q / d; // steady state
            double b = -(a * cosine + w * sine) / wd; // v(0) = 0 and v'(0) = 0
            return cosine * Math.Cos(w * t) + sine * Math.Sin(w * t)
                + Math.Exp(-a * t) * (-cosine * Math.Cos(wd * t) + b * Math.Sin(wd * t));
        }
    }

    [Fact]
    public void Charge_pumped_through_nonlinear_capacitances_is_conserved_over_a_million_steps()
    {
        // Two junctions share an isolated node but for 1 TΩ: the node's charge may only leak through that.
        var junction = Junctions.Silicon with { SaturationAmps = 1e-30, JunctionFarads = 100e-12, JunctionVolts = 0.8, Grading = 0.4 };
        const double hertz = 1e6, periods = 25_000;
        var circuit = new Circuit([
            new VoltageSource("S", "A", "GND", new Sine(-3, 2, hertz)), new Diode("D1", "A", "X", junction),
                new Diode("D2", "X", "GND", junction),
            new Resistor("R", "X", "GND", 1e12)]);
        var result = circuit.Compile(new SolverSettings
        {
            LongestStep = 1 / (40 * hertz),
            Accuracy = 1e-4,
            Keep = ["X"],
            SolvesEveryPeriod = true,
        }).RunTransient(periods / hertz);
        Assert.True(result.Audit.StepsTaken >= 1_000_000);
        // After whole periods the source is back where it began: so is the node, but for the leak's drift, which
        // moves it by less than V·t/(R·C) = 2 V · 25 ms / (1 TΩ · 50 pF) = 1 mV.
        double before = result.Start.Nodes["X"], after = result.Final.Nodes["X"];
        Assert.Equal(before, after, 1.1e-3);
    }
}
