using System.Numerics;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Tests;

public class RcFilterTests
{
    private static Stage Filter(params (string Key, object Value)[] settings) => Asked.Of("rc-filter", "rc",
        settings.Concat([("from.input", "A"), ("from.output", "B")]).ToDictionary(s => s.Item1, s => s.Item2), [], []).Build();

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void The_ladder_of_impedances_is_3_dB_down_at_the_corner_of_the_hand_math(int poles)
    {
        var stage = Filter(("resistor.value", FrontEndOf.Ohm(1e3)), ("capacitor.value", new Quantity(100e-9, Unit.Farad)),
            ("poles.count", poles));
        double omega = 2 * Math.PI * stage.HandMath[0].Result;
        Complex Ohms(string name) => stage.Parts.OfType<ResistorPart>().First(p => p.Name == name).Ohms.Value;
        Complex Cap(string name) => 1 / (Complex.ImaginaryOne * omega * stage.Parts.OfType<CapacitorPart>().First(p => p.Name == name)
            .Farads.Value);
        Complex gain;
        if (poles == 1)
            gain = Cap("rc.C1") / (Ohms("rc.R1") + Cap("rc.C1"));
        else
        {
            var second = Ohms("rc.R2") + Cap("rc.C2");
            var shunt = Cap("rc.C1") * second / (Cap("rc.C1") + second);
            gain = shunt / (Ohms("rc.R1") + shunt) * Cap("rc.C2") / second;
        }
        Assert.Equal(1 / Math.Sqrt(2), gain.Magnitude, 1e-12);
    }

    [Fact]
    public void A_corner_of_1_kHz_with_10_nF_takes_16_kohm()
    {
        // 1/(2π·1 kHz·10 nF) = 15.9 kohm; nearest in E24 is 16 kohm.
        var stage = Filter(("corner.value", new Quantity(1e3, Unit.Hertz)), ("capacitor.value", new Quantity(10e-9, Unit.Farad)));
        Assert.Equal(16e3, stage.Parts.OfType<ResistorPart>().Single().Ohms.Value);
    }

    [Fact]
    public void A_filter_of_a_resistor_alone_is_refused() =>
        Assert.Throws<StageProblemException>(() => Filter(("resistor.value", FrontEndOf.Ohm(1e3))));
}
