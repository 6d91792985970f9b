using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>What is said below a sensor of its surroundings: common mode, hum, return wire, ripple.</summary>
internal static class SensorSurroundings
{
    /// <summary>What its other node stands at; null where nothing is said of it or after a complaint.</summary>
    public static CommonMode? CommonModeOf(Sensor sensor, string other, SensorWiring? wiring, StatementSyntax statement, Scope scope)
    {
        if (statement["mode-volts"] is not { } given || scope.Span(given) is not { } volts)
            return null;
        if (sensor.Output == Unit.Volts && wiring is null && other != Circuit.Ground)
            return new(volts);
        scope.Diagnostics.Error(given.Span, DiagnosticCode.SensorUndecided,
            "A common mode is of a sensor that gives a voltage between two nodes, neither of which is ground; that of a bridge follows "
                + "from its excitation.", $"drives {sensor.Node} against its other output, gives -100 mV .. 100 mV, for example");
        return null;
    }

    /// <summary>The hum that it picks up; null where nothing is said of it or after a complaint.</summary>
    public static Hum? HumOf(StatementSyntax statement, Scope scope)
    {
        if (scope.Positive(statement["hum-volts"]) is not { } volts || scope.Positive(statement["hum-hertz"]) is not { } hertz)
            return null;
        double? farads = scope.Positive(statement["hum-farads"]);
        return statement["hum-farads"] is not null && farads is null ? null
            : new(volts, hertz, scope.Fraction(statement["hum-tolerance"]) ?? 0, farads);
    }

    /// <summary>The wire from its other terminal; null where nothing is said of it or after a complaint.</summary>
    public static ReturnWire? ReturnOf(StatementSyntax statement, Scope scope)
    {
        double ohms = scope.NotNegative(statement["return-ohms"]) ?? 0, offset = scope.NotNegative(statement["ground-volts"]) ?? 0;
        var amps = statement["return-amps"] is { } given ? scope.Span(given) : null;
        if (amps is { Low: < 0 })
        {
            scope.Diagnostics.Error(statement["return-amps"]!.Span, DiagnosticCode.OutOfRange,
                "The current in a return wire flows away from the sensor: it is not below zero.", "such as 0 mA .. 50 mA");
            return null;
        }
        return ohms == 0 && offset == 0 ? null : new(ohms, amps, offset);
    }

    /// <summary>The ripple on its slow change; null where nothing is said of it or after a complaint.</summary>
    public static Ripple? RippleOf(StatementSyntax statement, Scope scope)
    {
        if (scope.Positive(statement["peak-to-peak"]) is not { } volts || scope.Positive(statement["hertz"]) is not { } hertz)
            return null;
        if (!statement.Has("edge"))
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.RippleWithoutEdge,
                "Ripple matters while the sensor changes slowly, but it is not said how slowly.", "edge TIME, such as edge 20 ms");
        return new Ripple(volts, hertz);
    }
}
