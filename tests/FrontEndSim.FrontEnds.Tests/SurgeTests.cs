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

    [Fact]
    public void A_surge_brings_its_cautions() => Assert.NotEmpty(new Surge(SurgeShape.Known[0], 500, 42).Cautions);
}
