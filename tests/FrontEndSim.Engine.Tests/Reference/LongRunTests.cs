namespace FrontEndSim.Engine.Tests.Reference;

/// <summary>What a fixed rule for the first step would get wrong: an impulse that is short against the run.</summary>
public sealed class LongRunTests
{
    [Theory]
    [InlineData(1e-5)]
    [InlineData(1e-3)]
    [InlineData(0.1)]
    public void An_impulse_of_nanoseconds_is_not_stepped_over_in_a_long_run(double until)
    {
        var reference = ReferenceCase.Read("clamp_fast_transient");
        var pin = ReferenceCircuits.Of(reference).Compile().RunTransient(until).Voltage("pin");
        double expected = reference.Results["peak_V"];
        Agreement.OfScale($"peak in a run of {until:g2} s", expected, pin.Maximum().Value, expected, 1e-3);
    }

    [Theory]
    [InlineData(2e-3)]
    [InlineData(0.1)]
    public void A_surge_is_not_stepped_over_in_a_long_run(double until)
    {
        var reference = ReferenceCase.Read("clamp_surge_positive");
        var pin = ReferenceCircuits.Of(reference).Compile().RunTransient(until).Voltage("pin");
        double expected = reference.Results["peak_V"];
        Agreement.OfScale($"peak in a run of {until:g2} s", expected, pin.Maximum().Value, expected, 1e-3);
    }
}
