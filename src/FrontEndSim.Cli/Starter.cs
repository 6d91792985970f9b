using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Cli;

/// <summary>What a starter circuit is made for.</summary>
/// <param name="Sensor">The sensor's span, V.</param>
/// <param name="SourceOhms">Its source resistance, ohm.</param>
/// <param name="PinVolts">Supply and full scale of the pin, V.</param>
/// <param name="Bits">Resolution of the converter.</param>
/// <param name="SupplyVolts">Supply of the op amps either side of ground, V.</param>
/// <param name="FaultVolts">What may be put on the sensor terminal by mistake, V.</param>
internal sealed record Starter(Span Sensor, double SourceOhms, double PinVolts, int Bits, double SupplyVolts, double FaultVolts)
{
    /// <summary>
    /// The text of a circuit file that fulfils what it requires. The limit on the error is set from what the circuit
    /// reaches, and says so.
    /// </summary>
    /// <param name="title">Title of the circuit.</param>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="cancel">Stops the check.</param>
    /// <exception cref="InputException">No circuit of this kind does what is asked; the message says why.</exception>
    public string Write(string title, string file, CancellationToken cancel)
    {
        if (!(PinVolts > 0) || !(SupplyVolts > 0) || Bits is < 1 or > 32)
            throw new InputException("--pin and --supply must be above 0 V, and --bits from 1 to 32");
        // Half of all codes, until it is known what the circuit reaches.
        var first = Check(Text(title, file, Math.Pow(2, Bits - 1)), file, cancel);
        double reached = Math.Abs(first.Mappings[0].Worst.ErrorCounts);
        // A quarter more than is reached, rounded up to two digits.
        double digit = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(reached, 0.1))) - 1),
            limit = Math.Ceiling(1.25 * Math.Max(reached, 0.1) / digit) * digit;
        string text = Text(title, file, limit);
        var check = Check(text, file, cancel);
        return check.Requirements.FirstOrDefault(r => !r.Met) is { } unmet
            ? throw new InputException($"no starter circuit for these targets: {RequirementWords.Of(unmet.Requirement)} is not met. "
                + $"{RequirementWords.Reason(unmet)} {RequirementWords.Remedy(unmet)}".TrimEnd())
            : text;
    }

    private static CheckResult Check(string text, string file, CancellationToken cancel)
    {
        var loaded = CircuitFile.Load(new SourceFile(file, text));
        return loaded.FrontEnd is { } frontEnd
            ? CheckStudy.Run(frontEnd, cancel: cancel)
            : throw new InputException($"no starter circuit for these targets: "
                + $"{string.Join(" ", loaded.Diagnostics.Where(d => d.IsError).Select(d => d.Message))}");
    }

    /// <summary>The starter's file with the numbers of these targets in it.</summary>
    private string Text(string title, string file, double errorCounts)
    {
        var text = new CircuitText(new SourceFile(file, Pattern()));
        text = text.WithLine(text.Statements.First(s => s.Keyword == "circuit"), "circuit " + ValueText.Quoted(title))
            .WithValue("VP", ValueText.Volts(SupplyVolts)).WithValue("VN", ValueText.Volts(-SupplyVolts))
                .WithValue("VDD", ValueText.Volts(PinVolts))
            .WithValue("probe.span", ValueText.Of(Sensor)).WithValue("probe.source", ValueText.Ohms(SourceOhms))
            .WithSetting("shift", $"maps probe onto {ValueText.Of(new Span(0, PinVolts))}")
            .WithSetting("shift", "offset from " + ShiftRail)
            .WithValue("adc.converts", ValueText.Number(Bits));
        text = text.WithValue(text.Statements.First(s => s.Keyword == "event").Name + ".step", ValueText.Volts(FaultVolts));
        text = text.WithLine(text.Statements.First(s => s.Keyword == "event"),
            $"event \"{ValueText.Volts(FaultVolts)} on the sensor terminal\" at IN");
        var limit = new MappingError("adc", errorCounts, "");
        return text.WithLine(text.Statements.Where(s => s.Keyword == "require").ElementAt(1), "require " + FrontEndText.Of(limit))
            .ToString();
    }

    /// <summary>The circuit that a starter begins as.</summary>
    private static string Pattern()
    {
        using var stream = typeof(Starter).Assembly.GetManifestResourceStream("starter.fes")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }

    /// <summary>The rail of the sign that the span has to be shifted by.</summary>
    private string ShiftRail => Sensor.Low > 0 ? "VN" : "VDD";
}
