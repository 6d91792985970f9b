using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Reporting.Words;

/// <summary>A circumstance in words.</summary>
public static class OccasionWords
{
    /// <summary>"in "24 V on the terminal", sensors at the upper end, at 60 °C, VDD at 3.366 V", "at the operating point, sensors at
    /// mid-span".</summary>
    public static string Of(Occasion where)
    {
        List<string> parts = [where.Event is { } name ? $"in \"{name}\"" : "at the operating point"];
        if (where.Sensors is { } place && (where.Event is null || place != SpanPlace.Middle))
            parts.Add(place switch
            {
                SpanPlace.Low => "sensors at the lower end of their spans",
                SpanPlace.High =>
                "sensors at the upper end of their spans",
                _ => "sensors at mid-span"
            });
        if (where.IsSensorTornOff)
            parts.Add("the sensor torn off");
        if (where.AreSuppliesOff)
            parts.Add(where.AreSuppliesFloating ? "the supplies off and left to float" : "the supplies off");
        else if (where.AreSuppliesFloating)
            parts.Add("the lost supply left to float");
        parts.AddRange(where.Turned.Select(s => s + " the other way"));
        parts.AddRange(where.Selected.Select(c => $"{c.Multiplexer} at {c.Node}"));
        if (where.Celsius is { } celsius)
            parts.Add($"at {Figures.Plain(celsius, "°C", 3)}");
        parts.AddRange(where.Ends.Select(e => $"{e.Subject} at {OfWhat(e.Of)}{Figures.Of(e.Value.Value, e.Value.Symbol, 4)}"));
        return string.Join(", ", parts);
    }

    private static string OfWhat(string quantity) => quantity == "" ? ""
        : $"{(quantity[0] is 'a' or 'e' or 'i' or 'o' or 'u' ? "an" : "a")} {quantity} of ";
}
