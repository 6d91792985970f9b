using CsCheck;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public class QuantityTests
{
    private static readonly Dictionary<string, Unit> Units = new()
    {
        ["V"] = Unit.Volts,
        ["A"] = Unit.Amps,
        ["ohm"] = Unit.Ohm,
        ["F"] = Unit.Farad,
        ["H"] = Unit.Henry,
        ["W"] = Unit.Watt,
        ["J"] = Unit.Joule,
        ["s"] = Unit.Seconds,
        ["Hz"] = Unit.Hertz,
        ["C"] = Unit.Celsius,
        ["counts"] = Unit.Count,
        [""] = Unit.None,
        ["V/s"] = Unit.VoltsPerSecond,
        ["1/K"] = Unit.PerKelvin,
    };

    private static double Read(string text, string unit)
    {
        var (value, problem) = QuantityReader.Read(text, Units[unit]);
        Assert.True(problem is null, problem is null ? "" : DiagnosticPrinter.Print(problem));
        return value!.Value;
    }

    [Fact]
    public void A_quantity_of_every_unit_is_read_as_it_is_printed()
    {
        foreach (var (unit, symbols) in Unit.Known.Where(k => Units.ContainsValue(k.Unit)))
        {
            foreach (double value in new[] { 1e-4, 0.25, 47, 3.3e5 })
            {
                string text = FrontEnds.Quantities.SiText.Format(value, symbols[0]);
                var (read, problem) = QuantityReader.Read(text, unit);
                Assert.True(problem is null, text);
                Assert.Equal(value, read!.Value, 1e-12 * value);
            }
        }
    }

    [Theory]
    [InlineData("4.7 kohm", 4700, "ohm")]
    [InlineData("4.7 kΩ", 4700, "ohm")]
    [InlineData("10 nF", 10e-9, "F")]
    [InlineData("10nF", 10e-9, "F")]
    [InlineData("-1.2 V", -1.2, "V")]
    [InlineData("−1.2 V", -1.2, "V")]
    [InlineData(".5 V", 0.5, "V")]
    [InlineData("5%", 0.05, "")]
    [InlineData("5 %", 0.05, "")]
    [InlineData("100 us", 100e-6, "s")]
    [InlineData("100 µs", 100e-6, "s")]
    [InlineData("5 kHz", 5000, "Hz")]
    [InlineData("2 mA", 2e-3, "A")]
    [InlineData("250 mW", 0.25, "W")]
    [InlineData("10 uH", 10e-6, "H")]
    [InlineData("85 °C", 85, "C")]
    [InlineData("85 C", 85, "C")]
    [InlineData("85°C", 85, "C")]
    [InlineData("-40 C", -40, "C")]
    [InlineData("4 counts", 4, "counts")]
    [InlineData("1e-6 A", 1e-6, "A")]
    [InlineData("1.5E3 V", 1500, "V")]
    [InlineData("0.5 V/us", 0.5e6, "V/s")]
    [InlineData("100 ppm/K", 100e-6, "1/K")]
    [InlineData("12", 12, "")]
    public void A_number_with_a_prefix_and_a_unit_is_read(string text, double value, string unit) => Assert.Equal(value, Read(text, unit));

    // IEC 60062: the letter stands for the decimal point; codes from the standard's own kind of examples, from memory.
    [Theory]
    [InlineData("4k7", 4700, "ohm")]
    [InlineData("4K7", 4700, "ohm")]
    [InlineData("4R7", 4.7, "ohm")]
    [InlineData("0R47", 0.47, "ohm")]
    [InlineData("470R", 470, "ohm")]
    [InlineData("470k", 470e3, "ohm")]
    [InlineData("2M2", 2.2e6, "ohm")]
    [InlineData("1G", 1e9, "ohm")]
    [InlineData("10n", 10e-9, "F")]
    [InlineData("6p8", 6.8e-12, "F")]
    [InlineData("4u7", 4.7e-6, "F")]
    [InlineData("4µ7", 4.7e-6, "F")]
    [InlineData("2m2", 2.2e-3, "F")]
    [InlineData("3V6", 3.6, "V")]
    public void A_value_code_of_IEC_60062_is_read(string code, double value, string unit) => Assert.Equal(value, Read(code, unit));

    [Fact]
    public void A_small_m_is_milli_and_a_large_M_is_mega()
    {
        Assert.Equal(1e-3, Read("1 mohm", "ohm"));
        Assert.Equal(1e6, Read("1 Mohm", "ohm"));
        Assert.Equal(1e6, Read("1M", "ohm"));
        Assert.Equal(1e-3, Read("1m", "F"));
    }

    [Theory]
    [InlineData("3.3 V / 2", 1.65, "V")]
    [InlineData("2 mA * 1 kohm", 2, "V")]
    [InlineData("1 / (100 us)", 1e4, "Hz")]
    [InlineData("10 kohm * 10 nF", 1e-4, "s")]
    [InlineData("1 V + 2 V * 3", 7, "V")]
    [InlineData("(1 V + 2 V) * 3", 9, "V")]
    [InlineData("10 V - 3 V - 2 V", 5, "V")]
    [InlineData("--5 V", 5, "V")]
    [InlineData("5 V * 2 mA", 10e-3, "W")]
    public void Arithmetic_follows_the_usual_precedence_and_carries_units(string text, double value, string unit) =>
        Assert.Equal(value, Read(text, unit), 12);

    [Theory]
    [InlineData("5 A", "V", "a current (5 A), but a voltage")]
    [InlineData("5", "V", "a plain number (5), but a voltage")]
    [InlineData("10n", "H", "a capacitance (10 nF), but an inductance")]
    [InlineData("4k7", "F", "a resistance (4.7 kΩ), but a capacitance")]
    [InlineData("1 V + 1 A", "V", "cannot be added")]
    [InlineData("1 V / 0", "V", "no finite value")]
    [InlineData("4k7x", "ohm", "neither a quantity nor a value code")]
    [InlineData("1e999 V", "V", "too large")]
    [InlineData("1e308 nA", "A", "Nothing can be computed with")]
    [InlineData("1e-40 F", "F", "Nothing can be computed with")]
    [InlineData("1e12 V * 1e12 A", "W", "Nothing can be computed with")]
    [InlineData("", "V", "One value is needed")]
    [InlineData("VDD", "V", "no value named VDD")]
    [InlineData("5 V 6 V", "V", "'6' is not expected")]
    public void A_wrong_quantity_says_what_is_wrong(string text, string unit, string message)
    {
        var (value, problem) = QuantityReader.Read(text, Units[unit]);
        Assert.Null(value);
        Assert.Contains(message, problem!.Message);
    }

    [Theory]
    [InlineData("5 v", "V")]
    [InlineData("5 KHz", "kHz")]
    [InlineData("5 Volts", "V")]
    [InlineData("5 sec", "s")]
    [InlineData("5 kohms.", null)]
    public void A_misspelt_unit_names_the_unit_that_is_probably_meant(string text, string? unit)
    {
        var (_, problem) = QuantityReader.Read(text, Unit.Volts);
        Assert.NotNull(problem);
        if (unit is not null)
            Assert.Equal($"the unit {unit}", problem.Suggestion);
    }

    [Fact]
    public void A_range_runs_from_low_to_high()
    {
        Assert.Equal(new Span(-1.2, 1.8), QuantityReader.ReadSpan("-1.2 V .. 1.8 V", Unit.Volts).Span);
        Assert.Equal(new Span(0, 3.3), QuantityReader.ReadSpan("0 V..3.3 V", Unit.Volts).Span);
        Assert.Equal("2 V .. 1 V", Assert.IsType<Diagnostic>(QuantityReader.ReadSpan("2 V .. 1 V", Unit.Volts).Problem)
            .Message.Split("but ")[1].Replace(" does not.", ""));
        Assert.Equal("1 V .. 2 V", QuantityReader.ReadSpan("2 V .. 1 V", Unit.Volts).Problem!.Suggestion);
    }

    [Fact]
    public void What_is_printed_as_a_quantity_can_be_read_again()
    {
        Unit[] units = [Unit.Volts, Unit.Amps, Unit.Ohm, Unit.Farad, Unit.Henry, Unit.Watt, Unit.Joule, Unit.Seconds, Unit.Hertz,
            Unit.Celsius, Unit.Count, Unit.VoltsPerSecond];
        Gen.Select(Gen.Double[1, 10], Gen.Int[-20, 13], Gen.Bool, Gen.Int[0, units.Length - 1])
            .Sample((mantissa, exponent, negative, unit) =>
        {
            var quantity = new Quantity((negative ? -mantissa : mantissa) * Math.Pow(10, exponent), units[unit]);
            var (value, problem) = QuantityReader.Read(quantity.ToString(), quantity.Unit);
            // Four significant digits are printed: half a unit of the fourth is 0.05 % at most.
            return problem is null && Math.Abs(value!.Value - quantity.Value) <= 0.5001e-3 * Math.Abs(quantity.Value);
        });
    }
}
