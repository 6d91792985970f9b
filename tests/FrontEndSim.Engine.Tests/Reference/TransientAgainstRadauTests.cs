using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Tests.Reference;

/// <summary>
/// Transients at default settings against SciPy's Radau at a relative tolerance of 1e-10 on hand-written equations
/// (tests/reference; the ring in closed form). Limit throughout: 0.1 %.
/// </summary>
public sealed class TransientAgainstRadauTests
{
    private const double Limit = 1e-3;

    public static TheoryData<string, string> Cases => [.. ReferenceCircuits.Transients];

    private static (ReferenceCase Case, Circuit Circuit, TransientResult Result) Run(string name)
    {
        var reference = ReferenceCase.Read(name);
        var circuit = ReferenceCircuits.Of(reference);
        return (reference, circuit, circuit.Compile().RunTransient(reference["Until"]));
    }

    [Theory, MemberData(nameof(Cases))]
    public void Every_node_follows_the_reference_within_a_thousandth_of_its_peak(string name, string peakNode)
    {
        var (reference, _, result) = Run(name);
        Assert.Contains(reference.Nodes, n => n.Node == peakNode);
        double[] times = reference.Column("time_s");
        Assert.Multiple([.. reference.Nodes.Select(n => (Action)(() =>
            Agreement.OfPeak($"{name}, {n.Node}", times, n.Volts, result.Voltage(n.Node).Sample(times), Limit)))]);
    }

    [Theory, MemberData(nameof(Cases))]
    public void The_peak_is_located_between_the_steps_and_not_sampled(string name, string peakNode)
    {
        var (reference, _, result) = Run(name);
        double expected = reference.Results["peak_V"];
        var trace = result.Voltage(peakNode);
        var (when, peak) = expected > 0 ? trace.Maximum() : trace.Minimum();
        Assert.Multiple(() => Agreement.OfScale($"{name}, peak", expected, peak, expected, Limit),
            // The value at the reference's time of peak, which says that the peak is at the right time as well.
            () => Agreement.OfScale($"{name}, value at the reference's peak (ours "
                + $"at {when:g6} s, there {reference.Results["peak_s"]:g6} s)",
                expected, trace.At(reference.Results["peak_s"]), expected, Limit));
    }

    [Theory, MemberData(nameof(Cases))]
    public void Each_part_takes_the_energy_that_the_reference_gives_it(string name, string peakNode)
    {
        _ = peakNode;
        var (reference, _, result) = Run(name);
        double source = reference.Results["energy.source_J"];
        Assert.Multiple([.. reference.Results.Where(r => r.Key.StartsWith("energy.", StringComparison.Ordinal)).Select(r => (Action)(() =>
        {
            string part = r.Key["energy.".Length..^2];
            double taken = (part == "source" ? -1 : 1) * result.Power(part).Integral();
            // A zener's share is small but decides whether it survives: each part that takes a millionth or more is held
            // to its own energy, the others to the source's.
            double scale = r.Value > 1e-6 * source ? r.Value : source;
            Agreement.OfScale($"{name}, energy of {part}", r.Value, taken, scale, Limit);
        }))]);
    }

    [Theory, MemberData(nameof(Cases))]
    public void The_energy_drawn_from_the_sources_is_stored_or_dissipated(string name, string peakNode)
    {
        _ = peakNode;
        var (reference, circuit, result) = Run(name);
        double delivered = 0, stored = 0, dissipated = 0;
        foreach (var element in circuit.Elements)
        {
            switch (element)
            {
                case VoltageSource:
                    delivered -= result.Power(element.Name).Integral();
                    break;
                case Capacitor c:
                    var v = Across(c.From, c.To);
                    stored += 0.5 * c.Farads * (Square(v.At(v.End)) - Square(v.At(0)));
                    break;
                case Inductor l:
                    var i = result.Current(l.Name);
                    stored += 0.5 * l.Henries * (Square(i.At(i.End)) - Square(i.At(0)));
                    break;
                case Resistor r:
                    var across = Across(r.From, r.To);
                    dissipated += across.Times(across).Integral() / r.Ohms;
                    break;
                default: // diodes: dissipated, or stored in the junction
                    dissipated += result.Power(element.Name).Integral();
                    break;
            }
        }
        Agreement.OfScale($"{name}, energy balance", delivered, stored + dissipated, delivered, Limit);
        Agreement.OfScale($"{name}, energy balance that the audit states ({result.Audit.StepsTaken} steps taken, "
            + $"{result.Audit.StepsRefused} refused)", 0, result.Audit.EnergyImbalance, 1, Limit);

        Trace Across(string from, string to) => from == Circuit.Ground ? result.Voltage(to).Times(-1)
            : to == Circuit.Ground ? result.Voltage(from) : result.Voltage(from).Minus(result.Voltage(to));
        static double Square(double x) => x * x;
    }
}
