using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Tests;

public class QuantityTests
{
    [Theory]
    [InlineData(4700, "ohm", "4.7 kΩ")]
    [InlineData(-1.2, "V", "-1.2 V")]
    [InlineData(10e-9, "F", "10 nF")]
    [InlineData(999.96, "V", "1 kV")]
    [InlineData(999.94, "V", "999.9 V")]
    [InlineData(0.05, "%", "5 %")]
    [InlineData(0, "A", "0 A")]
    [InlineData(3.14159, "counts", "3.142 counts")]
    [InlineData(-2.5e-6, "A", "-2.5 µA")]
    [InlineData(1e6, "ohm", "1 MΩ")]
    [InlineData(25, "°C", "25 °C")]
    [InlineData(100e-6, "1/K", "100 ppm/K")]
    [InlineData(double.PositiveInfinity, "ohm", "∞ Ω")]
    public void Numbers_read_as_a_person_writes_them(double value, string unit, string text) =>
        Assert.Equal(text, SiText.Format(value, unit));

    [Fact]
    public void Volts_over_ohms_are_amperes_and_times_volts_watts()
    {
        var amps = new Quantity(24, Unit.Volts) / new Quantity(4700, Unit.Ohm);
        Assert.Equal(Unit.Amps, amps.Unit);
        Assert.Equal("122.6 mW", (amps * new Quantity(24, Unit.Volts)).ToString());
    }

    [Fact]
    public void Volts_and_amperes_cannot_be_added()
    {
        var error = Assert.Throws<UnitMismatchException>(() => new Quantity(1, Unit.Volts) + new Quantity(1, Unit.Amps));
        Assert.Contains("V and A", error.Message);
    }

    [Fact]
    public void A_resistance_times_a_capacitance_is_a_time() => Assert.Equal(Unit.Seconds, Unit.Ohm * Unit.Farad);

    [Fact]
    public void A_reversed_span_is_refused() => Assert.Throws<ArgumentException>(() => new Span(2, 1));
}
