using System.Globalization;

namespace FrontEndSim.Reporting.Tests;

public class CsvTests
{
    [Theory]
    [InlineData(0.1)]
    [InlineData(-1.2345678901234567e-300)]
    [InlineData(double.Epsilon)]
    [InlineData(1.0 / 3)]
    public void A_number_reads_back_as_the_same_double(double value) =>
        Assert.Equal(value, double.Parse(Csv.Number(value), CultureInfo.InvariantCulture));

    // RFC 4180, section 2, rules 5 to 7.
    [Fact]
    public void A_cell_with_a_comma_or_a_quote_is_quoted_and_its_quotes_doubled() =>
        Assert.Equal("event,\"24 V, \"\"long\"\"\"\n", Csv.Table(["event", "24 V, \"long\""], []));
}
