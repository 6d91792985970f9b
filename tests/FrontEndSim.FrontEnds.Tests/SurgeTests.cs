using FrontEndSim.FrontEnds.Disturbances;

namespace FrontEndSim.FrontEnds.Tests;

public class SurgeTests
{
    [Fact]
    public void A_surge_of_no_peak_or_no_source_resistance_is_refused()
    {
        Assert.Throws<ArgumentException>(() => new Surge(SurgeShape.Known[0], 0, 42));
        Assert.Throws<ArgumentException>(() => new Surge(SurgeShape.Known[0], 500, 0));
        Assert.Throws<ArgumentException>(() => new Surge(SurgeShape.Known[0], 500, 1.9));
    }

    // 60 V of direct voltage is where extra-low voltage that may be touched when dry ends (IEC 60364-4-41, from memory).
    [Fact]
    public void What_can_hurt_brings_its_caution()
    {
        Assert.NotEmpty(new StepTo(400, 1, 1e-3).Cautions);
        Assert.NotEmpty(new StepTo(-61, 1, 1e-3).Cautions);
        Assert.Empty(new StepTo(24, 1, 1e-3).Cautions);
        Assert.NotEmpty(new ReversedSource(1e-3).Cautions);
        Assert.NotEmpty(new Mains(230, 50).Cautions);
    }

    [Fact]
    public void A_surge_brings_its_cautions() => Assert.NotEmpty(new Surge(SurgeShape.Known[0], 500, 42).Cautions);
}
