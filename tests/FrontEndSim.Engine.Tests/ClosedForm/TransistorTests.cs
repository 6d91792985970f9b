using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>Transistors against their textbook equations worked by hand.</summary>
public class TransistorTests
{
    private const double Vt = 0.025692579, Is = 1e-14, Beta = 150;

    private static readonly BipolarModel Npn = new()
    {
        Polarity = Polarity.N,
        SaturationAmps = Is,
        ForwardGain = Beta,
        ReverseGain = 4,
        ActivationVolts = 1.12,
        TemperatureExponent = 3,
    };

    private static readonly MosModel NChannel = new()
    {
        Polarity = Polarity.N,
        ThresholdVolts = 2,
        AmpsPerSquareVolt = 0.1,
        SlopeFactor = 1.5,
    };

    private static VoltageSource Supply(double volts) => new("V", "V", "GND", volts);

    [Theory]
    [InlineData(Polarity.N, 1)]
    [InlineData(Polarity.P, -1)]
    public void A_transistor_biased_by_a_base_resistor_carries_beta_times_the_base_current(Polarity polarity, int sign)
    {
        // IC = β·(V − VBE)/RB, VBE = Vt·ln(IC/Is): Sedra and Smith, bias by a base resistor; solved by iteration here.
        double vbe = 0.6;
        for (int n = 0; n < 50; n++)
            vbe = Vt * Math.Log(1 + Beta * (10 - vbe) / 1e6 / Is);
        var point = new Circuit([Supply(sign * 10), new Resistor("RB", "V", "B", 1e6), new Resistor("RC", "V", "C", 1e3),
            new BipolarTransistor("Q", "C", "B", "GND", Npn with { Polarity = polarity })]).Compile().SolveOperatingPoint();
        Assert.Equal(sign * Beta * (10 - vbe) / 1e6, point.Parts["Q"].Amps, 1e-8);
        Assert.Equal(sign * vbe, point.Nodes["B"], 1e-7);
    }

    [Fact]
    public void A_common_emitter_stage_amplifies_by_gm_times_its_load_and_Early_s_resistance()
    {
        // A = −gm·(RC ∥ ro), gm = IC/Vt, ro = VA/IC at VCB = 0 and so (VA + VCB)/IC: Gray and Meyer, Analysis and Design of
        // Analog Integrated Circuits.
        const double va = 80, rc = 3e3;
        var compiled = new Circuit([Supply(10), new VoltageSource("S", "B", "GND", 0.66), new Resistor("RC", "V", "C", rc),
            new BipolarTransistor("Q", "C", "B", "GND", Npn with { EarlyVolts = va })]).Compile();
        var point = compiled.SolveOperatingPoint();
        double amps = point.Parts["Q"].Amps, vcb = point.Nodes["C"] - point.Nodes["B"], ro = (va + vcb) / amps;
        // The base's slope moves vbc as well: gm less 1/ro.
        double expected = -(amps / Vt - 1 / ro) * (rc * ro / (rc + ro));
        Assert.Equal(expected, compiled.SolveSmallSignal("S", [1]).Response("C")[0].Real, 1e-6 * Math.Abs(expected));
    }

    [Fact]
    public void A_saturated_transistor_drops_what_Ebers_and_Moll_say()
    {
        // VCE(sat) = Vt·ln((1/αR + IC/IB/βR)/(1 − IC/IB/βF)): Ebers and Moll, Proc. IRE 42 (1954).
        const double ic = 10e-3, ib = 1e-3, betaR = 4;
        var point = new Circuit([new CurrentSource("IB", "GND", "B", ib), new CurrentSource("IC", "GND", "C", ic),
            new BipolarTransistor("Q", "C", "B", "GND", Npn)]).Compile().SolveOperatingPoint();
        double expected = Vt * Math.Log(((betaR + 1) / betaR + ic / ib / betaR) / (1 - ic / ib / Beta));
        Assert.Equal(expected, point.Nodes["C"], 1e-6);
    }

    [Fact]
    public void A_transistor_leaves_saturation_after_its_storage_time()
    {
        // Charge control: qR decays until iR is nothing; with βF·IB far above IC and τR the larger time, the stored base charge
        // Q = τF·iF + τR·iR is drawn out by the reverse base current. Held here to the charge itself: what flows out of the base
        // until the collector rises is what was in it (Beaufoy and Sparkes 1957), less what recombines meanwhile.
        var model = Npn with { ForwardTransitSeconds = 0.5e-9, ReverseTransitSeconds = 100e-9 };
        var run = new Circuit([Supply(5), new Resistor("RC", "V", "C", 1e3),
            new CurrentSource("IB", "GND", "B", new Step(1e-3, -1e-3, 1e-7)),
            new BipolarTransistor("Q", "C", "B", "GND", model), new Resistor("RB", "B", "GND", 1e6)]).Compile().RunTransient(1e-6);
        double out90 = run.Voltage("C").Crossings(2.5)[0] - 1e-7;
        // iR from IB = iF/βF + iR/βR and IC = iF − iR·(1 + 1/βR) = 5 mA: iF ≈ 8.9 mA, iR ≈ 3.8 mA … charge 0.38 nC.
        double collector = 4.95e-3, reverse = (1e-3 - collector / Beta) / (1 / 4.0 + (1 + 1 / 4.0) / Beta);
        double charge = 100e-9 * reverse;
        // Drawn out at 1 mA, helped by recombination that falls from 1 mA to nothing: between half and the whole of Q/1 mA.
        Assert.InRange(out90, 0.5 * charge / 1e-3, charge / 1e-3);
    }

    [Fact]
    public void An_emitter_follower_pair_mirrors_a_current_but_for_its_two_base_currents()
    {
        // Iout = Iin/(1 + 2/β): Gray and Meyer, the simple current mirror, no Early effect.
        var point = new Circuit([Supply(5), new CurrentSource("I", "V", "B", 1e-3), new BipolarTransistor("Q1", "B", "B", "GND", Npn),
            new BipolarTransistor("Q2", "C", "B", "GND", Npn), new Resistor("R", "V", "C", 1e3)]).Compile().SolveOperatingPoint();
        Assert.Equal(1e-3 / (1 + 2 / Beta), point.Parts["R"].Amps, 1e-9);
    }

    [Theory]
    [InlineData(Polarity.N, 1)]
    [InlineData(Polarity.P, -1)]
    public void A_MOS_transistor_follows_the_square_law_saturated_and_its_channel_s_resistance_when_open(Polarity polarity, int sign)
    {
        // Saturated: β/2·(vgs − Vth)² (Sze); at vds near zero: β·(vgs − Vth) siemens.
        Circuit With(double vds) => new([new VoltageSource("G", "G", "GND", sign * 5), new VoltageSource("D", "D", "GND", sign * vds),
            new MosTransistor("M", "D", "G", "GND", NChannel with { Polarity = polarity })]);
        Assert.Equal(sign * 0.05 * 9, With(8).Compile().SolveOperatingPoint().Parts["M"].Amps, 1e-6);
        Assert.Equal(sign * 0.1 * (3 - 0.0005) * 1e-3, With(1e-3).Compile().SolveOperatingPoint().Parts["M"].Amps, 1e-9);
        // The same from either end.
        Assert.Equal(-With(1e-3).Compile().SolveOperatingPoint().Parts["M"].Amps, With(-1e-3).Compile().SolveOperatingPoint()
            .Parts["M"].Amps, 1e-6);
    }

    [Fact]
    public void Far_below_threshold_the_current_falls_by_e_for_each_n_times_kT_over_q()
    {
        double At(double vgs) => new Circuit([new VoltageSource("G", "G", "GND", vgs), new VoltageSource("D", "D", "GND", 5),
            new MosTransistor("M", "D", "G", "GND", NChannel)]).Compile().SolveOperatingPoint().Parts["M"].Amps;
        Assert.Equal(0.1 / (1.5 * Vt), Math.Log(At(1.2) / At(1.1)), 1e-3);
    }

    [Fact]
    public void A_MOS_switch_discharges_a_gate_charge_and_its_energies_balance()
    {
        var model = NChannel with { GateSourceFarads = 50e-12, GateDrainFarads = 10e-12, ChannelModulationPerVolt = 0.02 };
        var run = new Circuit([Supply(12), new Resistor("RL", "V", "D", 120),
            new VoltageSource("S", "IN", "GND", new Pulse(0, 5, 1e-7, 1e-8, 1e-6, 1e-8)),
            new Resistor("RG", "IN", "G", 1e3), new MosTransistor("M", "D", "G", "GND", model)]).Compile().RunTransient(3e-6);
        Assert.Equal(12, run.Voltage("D").At(0), 1e-6);
        // Rds(on) = 1/(β·(5 − 2)) = 3.33 ohm, at 12 V behind 120 ohm.
        Assert.Equal(12 * (1 / 0.3) / (120 + 1 / 0.3), run.Voltage("D").At(1e-6), 0.02);
        Assert.InRange(run.Audit.EnergyImbalance, 0, 1e-3);
        // What is dissipated must be what the supplies gave less what the gate still holds, at a gate alone too.
        var gate = new Circuit([new VoltageSource("S", "IN", "GND", new Step(0, 5, 1e-7, 1e-9)), new Resistor("RG", "IN", "G", 1e3),
            new Resistor("RD", "D", "GND", 1e3), new MosTransistor("M", "D", "G", "GND", model)]).Compile().RunTransient(1e-6);
        Assert.InRange(gate.Audit.EnergyImbalance, 0, 1e-3);
        var npn = new Circuit([new VoltageSource("S", "IN", "GND", new Pulse(0, 5, 1e-7, 1e-9, 1e-6, 1e-9)),
            new Resistor("RB", "IN", "B", 1e3),
            new Resistor("RC", "IN", "C", 1e3), new BipolarTransistor("Q", "C", "B", "GND",
                Npn with { ForwardTransitSeconds = 1e-9, ReverseTransitSeconds = 1e-7,
                EmitterFarads = 10e-12, CollectorFarads = 5e-12 })]).Compile().RunTransient(3e-6);
        Assert.InRange(npn.Audit.EnergyImbalance, 0, 1e-3);
    }

    [Fact]
    public void A_transformer_steps_down_by_its_turns_and_a_common_mode_choke_lets_the_difference_pass()
    {
        // n = √(L1/L2); with k near one and loads far above the leakage, v2 = k·v1·√(L2/L1) (any circuits textbook).
        var transformer = new Circuit([new VoltageSource("S", "A", "GND", 0),
            new CoupledInductors("T", "A", "GND", "B", "GND", 1, 0.01, 0.999)
            { FirstOhms = 1e-3, SecondOhms = 1e-3 }, new Resistor("R", "B", "GND", 1e6)]).Compile();
        Assert.Equal(0.0999, transformer.SolveSmallSignal("S", [1e3]).Response("B")[0].Magnitude, 1e-6);

        // Both windings the same way: L·(1 + k) each resists what is common; the windings against each other: L·(1 − k).
        double Amps(double second) => new Circuit([new VoltageSource("S1", "A", "GND", new Step(0, 1, 1e-6)),
            new VoltageSource("S2", "B", "GND", new Step(0, second, 1e-6)), new CoupledInductors("T", "A", "C", "B", "D", 1e-3, 1e-3, 0.99)
            { FirstOhms = 1e-6, SecondOhms = 1e-6 }, new Resistor("R1", "C", "GND", 1e-6), new Resistor("R2", "D", "GND", 1e-6)])
            .Compile().RunTransient(2e-6).Current("T").At(2e-6);
        Assert.Equal(1e-6 / 1.99e-3, Amps(1), 1e-3 * 1e-6 / 1.99e-3);
        Assert.Equal(1e-6 / 1e-5, Amps(-1), 1e-3 * 1e-6 / 1e-5);
    }

    [Theory]
    [InlineData(0.99)]
    [InlineData(-0.99)]
    public void A_core_saturates_where_the_integral_of_the_volts_reaches_its_flux_and_the_current_then_runs_away(double coupling)
    {
        // Faraday: λ = ∫(v − R·i) dt, whatever the core. 10 V on 1 H of 20 mVs saturate after 2 ms; then the current grows by V/L of what
        // is
        // left of the inductance: the stray 1 % and 2 % of the rest.
        const double volts = 10, henries = 1, flux = 20e-3, ohms = 0.1, left = 0.01 + 0.02 * 0.99;
        var run = new Circuit([new VoltageSource("S", "A", "GND", new Step(0, volts, 1e-6)),
            new CoupledInductors("T", "A", "GND", "B", "GND", henries, 0.01, coupling)
            { FirstOhms = ohms, SecondOhms = 1e-3, SaturationVoltSeconds = flux }, new Resistor("R", "B", "GND", 1e6)]).Compile()
                .RunTransient(8e-3);
        var amps = run.Current("T");
        Assert.Equal(volts * 1e-3 / henries, amps.At(1e-3), 0.01 * volts * 1e-3 / henries);
        Assert.InRange(amps.At(4e-3), 5 * volts * 4e-3 / henries, 1);
        Assert.Equal(volts / (henries * left), (amps.At(8e-3) - amps.At(7e-3)) / 1e-3, 0.02 * volts / (henries * left));
        foreach (double t in new[] { 0.5e-3, 2e-3, 2.5e-3, 5e-3, 8e-3 })
        {
            double i = amps.At(t), u = i / (flux / 0.99);
            double lambda = 0.01 * i + 0.99 * (0.02 * i + 0.98 * i / Math.Pow(1 + Math.Pow(u, 8), 0.125));
            double charge = Enumerable.Range(0, 4000).Sum(k => amps.At((k + 0.5) * t / 4000)) * t / 4000;
            Assert.Equal(volts * (t - 1e-6) - ohms * charge, lambda, 2e-5);
        }
        // The secondary follows the flux: what it gives falls with it.
        Assert.Equal(0.1 * 0.99 * volts, Math.Abs(run.Voltage("B").At(1e-3)), 0.01);
        Assert.InRange(Math.Abs(run.Voltage("B").At(8e-3)), 0, 0.7 * 0.1 * volts);
        Assert.InRange(run.Audit.EnergyImbalance, 0, 1e-3);
    }

    [Fact]
    public void A_varistor_carries_its_current_at_its_voltage_either_way_and_a_power_of_it_beyond()
    {
        double Amps(double volts) => new Circuit([new VoltageSource("S", "A", "GND", volts), new Varistor("M", "A", "GND", 39, 1e-3, 30)])
            .Compile().SolveOperatingPoint().Parts["M"].Amps;
        Assert.Equal(1e-3, Amps(39), 1e-9);
        Assert.Equal(-1e-3, Amps(-39), 1e-9);
        Assert.Equal(0, Amps(0), 1e-15);
        // i ∝ v^α for v far above 0.3 of V1, its rounding: the slope of the logarithms is α·x²/(x² + 0.09) + what is left.
        double x = 60.0 / 39, expected = 1 + 29 * x * x / (x * x + 0.09);
        Assert.Equal(expected, Math.Log(Amps(60.06) / Amps(59.94)) / Math.Log(60.06 / 59.94), 1e-3);

        var surge = new Circuit([new VoltageSource("S", "IN", "GND", 1000), new Resistor("R", "IN", "A", 2),
            new Varistor("M", "A", "GND", 39, 1e-3, 30) { SeriesOhms = 0.05 }]).Compile().SolveOperatingPoint();
        Assert.InRange(surge.Nodes["A"], 60, 100);
    }
}
