using System.Collections.Immutable;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Tests.Stages;

namespace FrontEndSim.FrontEnds.Tests.Sensors;

/// <summary>Charges, capacitances and rectified sines, read from the circuit in time, against closed forms.</summary>
public class TimedReadingTests
{
    private const double Codes = 1 << 24;

    private static Pin Adc => new("adc", "PIN") { HasClamps = false, Farads = 0, Converter = new(24, new(new(null, 0), new("VDD", 0))) };

    private static ImmutableArray<Rail> Rails(double tolerance = 0) =>
        [new("VDD", new(5, tolerance, 0)), new("VMID", new(2.5, 0, 0)) { Sinks = true }, new("VP", new(9, 0, 0)), new("VN", new(-9, 0, 0))];

    // What 20 samples make of a sine's peak in the mean over where they fall.
    private static readonly double OfPeak = Math.Sin(Math.PI / 20) / (Math.PI / 20);

    private static Sensor Piezo(double ownError = 0)
    {
        var wave = new Alternation(1000, 0, Amplitude.Peak, new Span(0, 5));
        return new("knock", "IN", wave.Instants, 0)
        {
            Quantity = "force",
            UnitText = "N",
            Alternation = wave,
            Farads = 470e-12,
            Law = new StraightLaw(wave.Instants, -0.5e-9, 0.5e-9, Unit.Coulomb) { OffsetError = ownError },
        };
    }

    // A charge of 0.5 nC at most into an op amp with 470 pF and 3.3 Mohm across it, about 2.5 V.
    private static FrontEnd Charged(double capacitorTolerance = 0, double railTolerance = 0, double ownError = 0) => new()
    {
        Rails = Rails(railTolerance),
        Sensors = [Piezo(ownError)],
        Parts =
        [
            new OpAmpPart("U1", "VMID", "IN", "PIN", "VP", "VN", IdealOpAmp.Type),
            new CapacitorPart("C1", "PIN", "IN", new(470e-12, capacitorTolerance, 0)),
                new ResistorPart("R1", "PIN", "IN", new(3.3e6, 0, 0)),
        ],
        Pins = [Adc],
        AlternatingReadings = [new("force", "knock", "adc", Amplitude.Peak, 20, 1)],
    };

    private static AlternatingResult Run(FrontEnd frontEnd) =>
        AlternatingStudy.Run(new SolvedFrontEnd(frontEnd), frontEnd.AlternatingReadings[0]);

    private static ReadingSpread Spread(FrontEnd frontEnd) =>
        AlternatingStudy.Spread(new SolvedFrontEnd(frontEnd), frontEnd.AlternatingReadings[0]);

    [Fact]
    public void A_charge_amplifier_gives_the_charge_over_its_capacitor_above_its_corner()
    {
        // Vo = Q/Cf·jωRfCf/(1 + jωRfCf) (Franco, Design with Operational Amplifiers, from memory).
        double turns = 2 * Math.PI * 1000 * 3.3e6 * 470e-12;
        double peak = 0.5e-9 / 470e-12 * turns / Math.Sqrt(1 + turns * turns);
        var result = Run(Charged());
        Assert.Null(result.Passes);
        Assert.Equal(1, result.Points[^1].Counts / (OfPeak * peak / 5 * Codes), 2e-4);
        Assert.All(result.Points, p => Assert.Equal(0, p.ReadingError, 2e-3));
    }

    [Fact]
    public void Its_capacitor_and_the_reference_are_what_a_reading_of_charge_is_off_by()
    {
        double sampling = Spread(Charged()).Largest;
        Assert.Equal(5 * (1 / 0.95 - 1), Spread(Charged(capacitorTolerance: 0.05)).Largest - sampling, 0.01);
        Assert.Equal(5 * (1 / 0.98 - 1), Spread(Charged(railTolerance: 0.02)).Largest - sampling, 0.01);
        Assert.Equal(0.25, Spread(Charged(ownError: 0.25)).Largest - sampling, 0.01);
    }

    [Fact]
    public void The_budget_of_a_charge_followed_in_time_ranks_its_capacitor_and_the_reference()
    {
        var budget = AlternatingBudget.Run(new SolvedFrontEnd(Charged(capacitorTolerance: 0.05, railTolerance: 0.02)), "force",
            new()
            {
                Celsius = [25],
                Assumed = new() { RailTempCo = 0, ResistorTempCo = 0 },
                MonteCarlo = new() { BatchDraws = 1000, MostBatches = 2 }
            },
            cancel: TestContext.Current.CancellationToken);
        Assert.True(budget.Assumptions.IsFollowedInTime);
        var full = budget.Points.Single(p => p.Place == "full");
        // Half ways of 1/(1 ± 0.05) and 1/(1 ± 0.02), to first order the tolerance itself, over √3.
        Assert.Equal(5 * 0.05 / Math.Sqrt(3), Math.Abs(full.Ranked.Single(r => r.Source == "C1 tolerance").Effect), 2e-3);
        Assert.Equal(5 * 0.02 / Math.Sqrt(3), Math.Abs(full.Ranked.Single(r => r.Source == "VDD tolerance").Effect), 2e-3);
        double sampling = Spread(Charged()).Largest;
        Assert.Equal(5 * (1 / 0.95 - 1 + 1 / 0.98 - 1) + sampling, full.Worst.High, 0.02);
    }

    // A sine of 1 V at 10 kHz over the sensor and 220 pF, about 2.5 V.
    private static FrontEnd Damp(double tolerance = 0) => new()
    {
        Rails = Rails(),
        Sensors =
        [
            new("damp", "OSC", new Span(0.1, 0.9), 0)
            {
                Other = "PIN", Quantity = "humidity", UnitText = "%", ExcitedBy = "V1",
                    Law = new StraightLaw(new Span(0.1, 0.9), 160e-12, 200e-12, Unit.Farad),
            },
        ],
        Parts =
        [
            new SourcePart("V1", "OSC", "VMID", new Sine(0, 1, 10e3), 0),
                new CapacitorPart("C1", "PIN", "VMID", new(220e-12, tolerance, 0)),
            new ResistorPart("R1", "PIN", "VMID", new(1e9, 0, 0)),
        ],
        Pins = [Adc],
        AlternatingReadings = [new("wet", "damp", "adc", Amplitude.Rms, 20, 1)],
    };

    [Fact]
    public void A_capacitance_is_read_by_what_it_divides_a_sine_to()
    {
        var result = Run(Damp());
        foreach (var point in result.Points)
        {
            double farads = 160e-12 + (point.SensorValue - 0.1) / 0.8 * 40e-12;
            Assert.Equal(1, point.Counts / (farads / (farads + 220e-12) / Math.Sqrt(2) / 5 * Codes), 1e-4);
            Assert.Equal(0, point.ReadingError, 1e-4);
        }
        // The other capacitor off by so much is as the sensor off by so much: C·(1 + t) reads as x·(1 + t), of which 0.8 stand for 40 pF.
        Assert.Equal(0.01 * 200 / 40 * 0.8, Spread(Damp(tolerance: 0.01)).Largest, 1e-3);
    }

    [Fact]
    public void Behind_a_rectifier_the_average_of_the_codes_is_two_over_pi_of_the_peak()
    {
        var wave = new Alternation(50, 0, Amplitude.Rms, new Span(0, 10));
        // Full wave: −(−2·half + input), from an ideal inverting half wave and a sum (Franco, from memory).
        var frontEnd = new FrontEnd
        {
            Rails = Rails(),
            Sensors =
            [
                new("mains", "IN", wave.Instants, 0)
                {
                    Quantity = "current", UnitText = "A", Alternation = wave, Law = new StraightLaw(wave.Instants, -3, 3, Unit.Volts),
                },
            ],
            Parts =
            [
                new ResistorPart("R1", "IN", "S", new(10e3, 0, 0)), new ResistorPart("R2", "S", "H", new(10e3, 0, 0)),
                new OpAmpPart("U1", "GND", "S", "A", "VP", "VN", IdealOpAmp.Type),
                new DiodePart("D1", "A", "S", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!),
                    new DiodePart("D2", "H", "A", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!),
                new ResistorPart("R3", "H", "T", new(5e3, 0, 0)), new ResistorPart("R4", "IN", "T", new(10e3, 0, 0)),
                new ResistorPart("R5", "T", "PIN", new(10e3, 0, 0)),
                new OpAmpPart("U2", "GND", "T", "PIN", "VP", "VN", IdealOpAmp.Type),
            ],
            Pins = [Adc],
            AlternatingReadings = [new("amps", "mains", "adc", Amplitude.Average, 200, 1)],
        };
        var result = Run(frontEnd);
        Assert.Equal(1, result.Points[^1].Counts / (2 / Math.PI * 3 / 5 * Codes), 2e-3);
        Assert.All(result.Points, p => Assert.Equal(0, p.ReadingError, 0.02));
    }

    [Fact]
    public void Hum_of_the_same_frequency_adds_to_the_reading_of_a_sine()
    {
        var wave = new Alternation(50, 0, Amplitude.Rms, new Span(0, 10));
        FrontEnd Board(double hum) => new()
        {
            Rails = Rails(),
            Sensors =
            [
                new("mains", "PIN", wave.Instants, 0)
                {
                    Other = "VMID", Quantity = "current", UnitText = "A", Alternation = wave, Hum = hum > 0 ? new(hum, 50, 0, null) : null,
                    Law = new StraightLaw(wave.Instants, 0.1 * wave.Instants.Low, 0.1 * wave.Instants.High, Unit.Volts),
                },
            ],
            Parts = [new ResistorPart("R1", "PIN", "GND", new(1e6, 0, 0))],
            Pins = [Adc],
            AlternatingReadings = [new("amps", "mains", "adc", Amplitude.Rms, 20, 1)],
        };
        // 40 mV rms at 100 mV rms for an ampere.
        Assert.Equal(0.4, Spread(Board(0.04)).Largest - Spread(Board(0)).Largest, 1e-4);
    }

    [Fact]
    public void A_common_mode_is_seen_by_what_does_not_reject_it()
    {
        var frontEnd = new FrontEnd
        {
            Rails = Rails(),
            Sensors =
            [
                new("cell", "PIN", new Span(0, 10), 0)
                {
                    Other = "LOW", Quantity = "force", UnitText = "N", Law = new StraightLaw(new Span(0, 10), 0, 1, Unit.Volts),
                    CommonMode = new(new Span(1, 1.4)),
                },
            ],
            Parts = [new ResistorPart("R1", "PIN", "GND", new(1e6, 0, 0))],
            Pins = [Adc],
        };
        // 0.1 V for a newton: 0.2 V either way are 2 N, a step of the converter beside them.
        var solved = new SolvedFrontEnd(frontEnd);
        Assert.Equal(2, solved.Spread(solved.Mapping("adc"))!.Largest, 1e-4);
    }
}
