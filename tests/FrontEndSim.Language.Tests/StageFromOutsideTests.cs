using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

public class StageFromOutsideTests
{
    private static string Circuit(double share) => $"""
        circuit "An attenuator between 50 ohm and 50 ohm"
        rail VDD 3.3 V
        sensor probe drives IN
            span 0 V .. 2 V
            source 50 ohm
        stage pad is pi-attenuator
            from IN to OUT
            loss 6.0206 dB
            around 50 ohm
            fed VDD
            reservoir 1 uF
        resistor Rl from OUT to GND 50 ohm 0.1%
        pin adc at OUT
            converts 12 bits over 0 V .. VDD
            maps probe onto 0 V .. {share} V
        require adc mapping error under 2 counts
        """;

    private static LoadResult Load(string text) => CircuitFile.Load(new SourceFile("pad.fes", text),
        stageKinds: [.. StageKinds.All, new PiAttenuator()]);

    // Half of the voltage is left by 6.02 dB, and half of the source's by the match: a quarter.
    [Theory]
    [InlineData(0.5, true)]
    [InlineData(0.6, false)]
    public void A_kind_of_stage_made_elsewhere_is_read_checked_and_written_by_its_settings_alone(double share, bool isMet)
    {
        var read = Load(Circuit(share));
        Assert.Empty(read.Diagnostics);
        var result = CheckStudy.Run(read.FrontEnd!, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(isMet, result.Requirements.Single().Met);
        Assert.Contains(result.Implied, r => r is { Requirement: StagesAsAsked, Met: true });

        string written = FrontEndText.Of(read.FrontEnd!);
        Assert.Contains("stage pad is pi-attenuator\n    from IN to OUT\n    loss 6.0206 dB\n    around 50 ohm\n    fed VDD\n    "
            + "reservoir 1 µF\n", written);
        Assert.Equal(written, FrontEndText.Of(Load(written).FrontEnd!));
    }

    [Fact]
    public void Its_settings_are_refused_and_changed_like_those_of_any_other()
    {
        Assert.Equal(["There is no kind of stage pi-attenuator."], CircuitFile.Load(new SourceFile("pad.fes", Circuit(0.5)))
            .Diagnostics.Select(d => d.Message));
        Assert.Equal(["This is a resistance (100 Ω), but a plain number is needed here."],
            Load(Circuit(0.5).Replace("6.0206 dB", "100 ohm dB")).Diagnostics.Select(d => d.Message));
        Assert.Equal(["loss must be above 0, but is -3."], Load(Circuit(0.5).Replace("6.0206", "-3")).Diagnostics.Select(d => d.Message));
        var text = new CircuitText(new SourceFile("pad.fes", Circuit(0.5)), [.. StageKinds.All, new PiAttenuator()]);
        Assert.Contains("reservoir 2 uF", text.WithValue("pad.C", new Quantity(2e-6, Unit.Farad)).ToString());
    }

    /// <summary>Three resistors that match at both ends; Reference Data for Engineers, chapter on attenuators, from memory: with K =
    /// 10^(L/20) the one in
    /// series is R·(K² − 1)/(2·K), those to ground are R·(K + 1)/(K − 1).</summary>
    private sealed class PiAttenuator : StageKind
    {
        private static readonly AmountSetting Loss = new("loss", true, "How much is lost between matched ends.", new("value", Unit.None),
            "dB");
        private static readonly AmountSetting Around = new("around", true, "The resistance at both ends.", new("value", Unit.Ohm));
        private static readonly Setting<Rail> Fed = Setting.Of("fed", false, "A supply with a capacitor.", new RailBlank("rail"));
        private static readonly PartSetting Reservoir = Capacitor("reservoir", "That capacitor.");

        public override string Name => "pi-attenuator";

        public override string Summary => "Loses what is asked for, and matches at both ends.";

        protected override ImmutableArray<Setting> OwnSettings { get; } = [Ends, Loss, Around, Fed, Reservoir];

        protected override Stage Assemble(StageRequest request)
        {
            var (input, output) = request.Get(Ends);
            double k = Math.Pow(10, request.Positive(Loss) / 20), around = request.Positive(Around);
            Part Resistor(string name, string from, string to, double share) =>
                new ResistorPart($"{request.Name}.{name}", from, to, new(around * share, 0.001));
            return new Stage(request.Name, Name, [new("from", input), new("to", output)],
            [
                Resistor("R1", input, Engine.Circuits.Circuit.Ground, (k + 1) / (k - 1)),
                    Resistor("R2", input, output, (k * k - 1) / (2 * k)),
                Resistor("R3", output, Engine.Circuits.Circuit.Ground, (k + 1) / (k - 1)),
                .. request.TryGet(Fed, out var rail) && request.Given(Reservoir, 0.2) is { } farads
                    ? [new CapacitorPart(request.Name + ".C", rail.Name, Engine.Circuits.Circuit.Ground, farads)] : Array.Empty<Part>(),
            ])
            {
                HandMath = [new("gain between matched ends", "1/K", $"K = {k}", 1 / k, "")
                    { Measure = new GainMeasure(input, output), Allowed = 0.01 / k }],
            };
        }
    }
}
