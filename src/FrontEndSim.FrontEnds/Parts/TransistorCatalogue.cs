using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>Transistors by registered type number. Gains are the least that every piece has, saturation voltages and resistances the
/// largest.</summary>
internal static class TransistorCatalogue
{
    private const string SmallNpn = "2N3904 data sheets of MCC, NTE and KEC; base-emitter voltages typical, from memory";
    private const string SmallPnp = "2N3906 registration, from memory";
    // Collector cut-off currents, from memory: 50 nA of both small types; 10 nA of the larger one, and 10 µA at 150 °C.
    private const double SmallLeakageAmps = 50e-9;
    private const string MediumNpn =
        "2N2222A data sheets of NXP, onsemi, Semelab and General Semiconductor, ratings of the plastic case; its collector current, "
        + "and typical base-emitter voltages, from memory";
    private const string ThroughHole =
        "2N7000 data sheets of NTE and onsemi; resistance at 4.5 V, pulse of the body diode and capacitances from memory";
    private const string SurfaceMount = "2N7002 data sheets of Central, Supertex, NTE and Transys";

    public static ImmutableArray<PartType> Types { get; } =
    [
        BipolarFit.Fit(new("2N3904", Polarity.N,
            [new(40, 0.1e-3), new(70, 1e-3), new(100, 10e-3) { Most = 300 }, new(60, 50e-3), new(30, 100e-3)], SmallNpn)
        {
            Bases = [new(0.65, 1e-3), new(0.72, 10e-3), new(0.84, 50e-3, 5e-3)],
            Saturations = [new(0.2, 10e-3, 1e-3, IsLimit: true), new(0.3, 50e-3, 5e-3, IsLimit: true)],
            EarlyVolts = 100, Transition = (300e6, 10e-3), Storage = (200e-9, 10e-3, 1e-3), CollectorFarads = 4e-12, EmitterFarads = 8e-12,
            LeakageAmps = SmallLeakageAmps,
            CollectorVolts = 40, CollectorBaseVolts = 60, EmitterVolts = 6, RatedAmps = 0.2, RatedWatts = 0.625, MostJunctionCelsius = 150,
        }),
        BipolarFit.Fit(new("2N3906", Polarity.P,
            [new(60, 0.1e-3), new(80, 1e-3), new(100, 10e-3) { Most = 300 }, new(60, 50e-3), new(30, 100e-3)], SmallPnp)
        {
            Bases = [new(0.66, 1e-3), new(0.73, 10e-3), new(0.85, 50e-3, 5e-3)],
            Saturations = [new(0.25, 10e-3, 1e-3, IsLimit: true), new(0.4, 50e-3, 5e-3, IsLimit: true)],
            EarlyVolts = 100, Transition = (250e6, 10e-3), Storage = (225e-9, 10e-3, 1e-3),
                CollectorFarads = 4.5e-12, EmitterFarads = 10e-12,
            LeakageAmps = SmallLeakageAmps,
            CollectorVolts = 40, CollectorBaseVolts = 40, EmitterVolts = 5, RatedAmps = 0.2, RatedWatts = 0.625, MostJunctionCelsius = 150,
        }),
        BipolarFit.Fit(new("2N2222A", Polarity.N,
            [new(35, 0.1e-3), new(50, 1e-3), new(75, 10e-3), new(100, 150e-3) { Most = 300 }, new(40, 500e-3)], MediumNpn)
        {
            Bases = [new(0.62, 1e-3), new(0.68, 10e-3), new(0.85, 150e-3, 15e-3)],
            Saturations = [new(0.3, 150e-3, 15e-3, IsLimit: true), new(1.0, 500e-3, 50e-3, IsLimit: true)],
            EarlyVolts = 100, Transition = (300e6, 20e-3), Storage = (225e-9, 150e-3, 15e-3),
                CollectorFarads = 8e-12, EmitterFarads = 25e-12,
            LeakageAmps = 10e-9, HotLeakage = (10e-6, 150),
            CollectorVolts = 40, CollectorBaseVolts = 75, EmitterVolts = 6, RatedAmps = 0.6, RatedWatts = 0.625, MostJunctionCelsius = 150,
        }),
        MosFit.Fit(new("2N7000", Polarity.N, new(0.8, 3), 1e-3,
            [new(1.2, 0.5, 10), new(1.8, 75e-3, 4.5), new(5, 0.5, 10, IsLimit: true), new(5.3, 75e-3, 4.5, IsLimit: true)], ThroughHole)
        {
            TypicalThreshold = 2.1, Leakage = (1e-6, 48), Farads = (20e-12, 11e-12, 4e-12),
            DrainVolts = 60, GateVolts = 20, RatedAmps = 0.2, PulseAmps = 0.5, RatedWatts = 0.4, MostJunctionCelsius = 150,
        }),
        MosFit.Fit(new("2N7002", Polarity.N, new(1, 2.5), 0.25e-3,
            [new(3.7, 0.5, 10), new(6.2, 50e-3, 5), new(7.5, 0.5, 10, IsLimit: true), new(7.5, 50e-3, 5, IsLimit: true)], SurfaceMount)
        {
            TypicalThreshold = 2.1, Leakage = (1e-6, 60), Farads = (22e-12, 11e-12, 2e-12),
            DrainVolts = 60, GateVolts = 20, RatedAmps = 0.115, PulseAmps = 0.8, RatedWatts = 0.2, MostJunctionCelsius = 150,
        }),
    ];
}
