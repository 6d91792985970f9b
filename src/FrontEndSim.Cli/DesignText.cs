using System.Globalization;
using System.Text;
using FrontEndSim.FrontEnds;

namespace FrontEndSim.Cli;

/// <summary>A design as a circuit file.</summary>
internal static class DesignText
{
    /// <summary>The text of the file.</summary>
    /// <param name="design">The design.</param>
    /// <param name="wish">What it was made for.</param>
    public static string Of(CompleteDesign design, DesignWish wish)
    {
        var text = new StringBuilder();
        var frontEnd = design.FrontEnd;
        var c = design.Candidate;
        text.Append(CultureInfo.InvariantCulture, $"# Chosen by frontendsim design: {c.Stage.Kind}, resistors of {c.Series.Name}.\n");
        text.Append(CultureInfo.InvariantCulture, $"# At worst {Counts(c.WorstErrorCounts)} off with all tolerances against it; {Counts(Math.Abs(c.Mapping.Worst.ErrorCounts))} with nominal parts.\n");
        if (design.Guard is { } guard)
            text.Append(CultureInfo.InvariantCulture, $"# The guard costs up to {Counts(guard.CostCounts)} with {Value(wish.LeakageAmps, "A")} of leakage either way.\n");
        foreach (string note in design.Notes)
            text.Append(CultureInfo.InvariantCulture, $"# {note}\n");
        text.Append(CultureInfo.InvariantCulture, $"circuit \"{frontEnd.Title}\"\n\n");
        foreach (var rail in frontEnd.Rails)
            text.Append(CultureInfo.InvariantCulture, $"rail {rail.Name} {Value(rail.Volts.Value, "V")}{(rail.Volts.Tolerance > 0 ? " tolerance " + Percent(rail.Volts.Tolerance) : "")}\n");
        foreach (var sensor in frontEnd.Sensors)
        {
            text.Append(CultureInfo.InvariantCulture, $"\nsensor {sensor.Name} drives {sensor.Node}\n    span {Value(sensor.Span.Low, "V")} .. {Value(sensor.Span.High, "V")}\n");
            if (sensor.SourceOhms > 0)
                text.Append(CultureInfo.InvariantCulture, $"    source {Value(sensor.SourceOhms, "ohm")}\n");
        }
        Stage(text, c.Stage.Kind, c.Request);
        if (design.Guard is { } g)
            Stage(text, "pin-guard", g.Request);
        foreach (var pin in frontEnd.Pins)
        {
            text.Append(CultureInfo.InvariantCulture, $"\npin {pin.Name} at {pin.Node}\n    rated {Level(pin.RatedLow!)} .. {Level(pin.RatedHigh!)}\n");
            text.Append(CultureInfo.InvariantCulture, $"    injection {Value(pin.InjectionAmps!.Value, "A")}\n");
            text.Append(CultureInfo.InvariantCulture, $"    converts {pin.Converter!.Bits} bits over {Level(pin.Converter.Span.Low)} .. {Level(pin.Converter.Span.High)}\n");
            if (pin.LeakageAmps != 0)
                text.Append(CultureInfo.InvariantCulture, $"    leakage {Value(pin.LeakageAmps, "A")}\n");
        }
        foreach (var fault in frontEnd.Events)
        {
            var step = (StepTo)fault.Disturbance;
            text.Append(CultureInfo.InvariantCulture, $"\nevent \"{fault.Name}\" at {fault.Node}\n    step to {Value(step.Volts, "V")} source {Value(step.SourceOhms, "ohm")} "
                + $"at {Value(step.StartSeconds, "s")}{(step.DurationSeconds is { } d ? " for " + Value(d, "s") : "")}\n");
        }
        text.Append('\n');
        foreach (var requirement in frontEnd.Requirements)
            text.Append(CultureInfo.InvariantCulture, $"require {requirement.Text}\n");
        return text.ToString();
    }

    /// <summary>A stage's settings, from their phrases: the same data that the language reads them by.</summary>
    private static void Stage(StringBuilder text, string kind, StageRequest request)
    {
        text.Append(CultureInfo.InvariantCulture, $"\nstage {request.Name} is {kind}\n");
        foreach (var setting in StageKinds.Find(kind)!.Settings.Where(s => request.Has(s.Name)))
        {
            var words = new List<string>();
            foreach (var piece in setting.Phrase)
            {
                if (piece is Keyword keyword)
                    words.Add(keyword.Text);
                else if (piece is Slot slot && request.Values.TryGetValue($"{setting.Name}.{slot.Name}", out object? value))
                    words.Add(Slot(value));
            }
            text.Append("    ").AppendJoin(' ', words).Append('\n');
        }
    }

    private static string Slot(object value) => value switch
    {
        Quantity q => Value(q.Value, q.Unit.Symbol),
        Span s => $"{Value(s.Low, "V")} .. {Value(s.High, "V")}",
        double fraction => Percent(fraction),
        int count => count.ToString(CultureInfo.InvariantCulture),
        _ => (string)value,
    };

    private static string Level(Level level) => level.Rail is null ? Value(level.Volts, "V")
        : level.Volts == 0 ? level.Rail
        : $"{level.Rail} {(level.Volts < 0 ? "-" : "+")} {Value(Math.Abs(level.Volts), "V")}";

    private static string Counts(double counts) => SiText.Plain(counts, "counts", 3);

    // Enough digits that nothing of what was chosen is lost.
    private static string Value(double value, string unit) => SiText.Format(value, unit, 12);

    private static string Percent(double fraction) => SiText.Format(fraction, "%", 12).Replace(" %", "%", StringComparison.Ordinal);
}
