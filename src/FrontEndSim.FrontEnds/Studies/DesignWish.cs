using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds;

/// <summary>What a front end is to be designed for. Voltages in V, resistances in ohm, currents in A.</summary>
public sealed record DesignWish
{
    /// <summary>The sensor's voltage without load over the range of use.</summary>
    public required Span Sensor { get; init; }

    /// <summary>Where that span is to land at the pin.</summary>
    public required Span Pin { get; init; }

    /// <summary>Rails at hand. Ground is always at hand.</summary>
    public required ImmutableArray<Rail> Rails { get; init; }

    /// <summary>Name of the rail that supplies the pin, and up to which it converts.</summary>
    public required string Supply { get; init; }

    /// <summary>Source resistance of the sensor.</summary>
    public double SourceOhms { get; init; }

    /// <summary>Resolution of the converter, bits.</summary>
    public int Bits { get; init; } = 12;

    /// <summary>Series of preferred numbers to choose from, each on its own.</summary>
    public ImmutableArray<ESeries> Series { get; init; } = [ESeries.E12, ESeries.E24, ESeries.E96];

    /// <summary>Tolerance of the resistors, a fraction. 1 % parts are sold in the values of all three series (common practice, no source).</summary>
    public double Tolerance { get; init; } = 0.01;

    /// <summary>Classes of op amp to choose from.</summary>
    public ImmutableArray<OpAmpType> OpAmps { get; init; } = PartCatalogue.Standard.OpAmps;

    /// <summary>Voltages that may be put on the sensor's terminal by mistake; empty for a pin without a guard.</summary>
    public ImmutableArray<double> FaultVolts { get; init; } = [];

    /// <summary>Resistance behind a fault.</summary>
    public double FaultOhms { get; init; } = 1;

    /// <summary>Largest current through the pin's own clamps.</summary>
    public double InjectionAmps { get; init; } = 2e-3;

    /// <summary>Largest leakage of the pin, either way; decides what a guard's series resistor costs.</summary>
    public double LeakageAmps { get; init; } = 100e-9;

    /// <summary>How far beyond its rails the pin may be taken.</summary>
    public double BeyondRailVolts { get; init; } = 0.3;

    /// <summary>Says what stands in the way of the wish, in a sentence that says what to change; null if nothing does.</summary>
    public string? Problem()
    {
        double highest = Rails.Select(r => r.Volts.Value).Append(0).Max(), lowest = Rails.Select(r => r.Volts.Value).Append(0).Min();
        double supply = Rails.First(r => r.Name == Supply).Volts.Value;
        string all = string.Join(", ", Rails.Select(r => $"{r.Name} {V(r.Volts.Value)}"));
        if (!(supply > 0))
            return $"The pin's supply {Supply} is at {V(supply)}: name a positive rail as the supply.";
        if (!FaultVolts.IsEmpty && SourceOhms == 0)
            return "A sensor without source resistance holds its terminal against any fault: give its source resistance, 1 ohm if nothing is known.";
        if (Pin.High > supply)
            return $"The pin's span reaches up to {V(Pin.High)}, beyond its supply of {V(supply)}: lower the span, or raise the supply.";
        if (Pin.Low < 0)
            return $"The pin's span reaches down to {V(Pin.Low)}, below ground, where no converter pin on a supply of {V(supply)} measures: start it at 0 V or above.";
        if (Pin.High > highest || Pin.Low < lowest)
            return $"The pin's span {V(Pin.Low)} .. {V(Pin.High)} is outside of the rails ({all}): nothing can drive the pin there. Add a rail, or narrow the span.";
        return null;

        static string V(double volts) => SiText.Format(volts, "V");
    }
}
