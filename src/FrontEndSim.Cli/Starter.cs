using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
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
    /// <exception cref="InputException">No circuit of this kind does what is wished; the message says why.</exception>
    public string Write(string title, string file, CancellationToken cancel)
    {
        if (!(PinVolts > 0) || !(SupplyVolts > 0) || Bits is < 1 or > 32)
            throw new InputException("--pin and --supply must be above 0 V, and --bits from 1 to 32");
        var first = Check(Text(title, double.MaxValue), file, cancel);
        double reached = Math.Abs(first.Mappings[0].Worst.ErrorCounts);
        // A quarter more than is reached, rounded up to two digits.
        double digit = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(reached, 0.1))) - 1), limit = Math.Ceiling(1.25 * Math.Max(reached, 0.1) / digit) * digit;
        string text = Text(title, limit);
        var check = Check(text, file, cancel);
        return check.Requirements.FirstOrDefault(r => !r.Met) is { } unmet
            ? throw new InputException($"no starter circuit for these wishes: {unmet.Requirement.Text} is not met. {RequirementWords.Reason(unmet)} {RequirementWords.Remedy(unmet)}".TrimEnd())
            : text;
    }

    private static CheckResult Check(string text, string file, CancellationToken cancel)
    {
        var loaded = CircuitFile.Load(new SourceFile(file, text));
        return loaded.FrontEnd is { } frontEnd
            ? CheckStudy.Run(frontEnd, cancel: cancel)
            : throw new InputException($"no starter circuit for these wishes: {string.Join(" ", loaded.Diagnostics.Where(d => d.IsError).Select(d => d.Message))}");
    }

    private string Text(string title, double errorCounts) =>
        $"""
        # A starter: change a number, save, and run  frontendsim check FILE  again.
        # Quantities are a number and a unit (4.7 kohm, 10 nF, -1.2 V) or a value code (4k7, 10n). m is milli, M is mega.

        circuit "{title.Replace('"', '\'')}"

        # Supplies. The op amps run from VP and VN; the pin and its converter from VDD.
        rail VP   {V(SupplyVolts)} tolerance 5%
        rail VN  {V(-SupplyVolts)} tolerance 5%
        rail VDD  {V(PinVolts)} tolerance 2%

        # The sensor: its voltage without load over the range of use, and its own resistance.
        sensor probe drives IN
            span   {V(Sensor.Low)} .. {V(Sensor.High)}
            source {SiText.Format(SourceOhms, "ohm", 12)}

        # Two inverting op amp stages bring the span onto the converter's range; the resistors are chosen for it.
        stage shift is two-stage-shifter
            from IN to LEVEL
            maps probe onto 0 V .. {V(PinVolts)}
            offset from {ShiftRail}
            opamp bipolar-general on VP and VN
            resistors E96 1%

        # What keeps faults from the pin: a resistor, a capacitor for edges, a Schottky diode to either side.
        # Such diodes hold the pin but leak more as they warm: frontendsim budget FILE shows what that costs.
        stage guard is pin-guard
            from LEVEL to PIN
            series 1k 1%
            shunt 100n
            schottky 1N5817
            schottky-high 1N5817 to VDD

        # The pin, with the limits of its data sheet. Put in the numbers of yours.
        pin adc at PIN
            rated -0.3 V .. VDD + 0.3 V
            injection 2 mA
            converts {Bits} bits over 0 V .. VDD

        # What may happen to it.
        event "{V(FaultVolts)} on the sensor terminal" at IN
            step to {V(FaultVolts)} source 1 ohm at 1 ms for 50 ms

        # What must hold. The limit on the error is a quarter above what this circuit reaches: tighten it as you improve it.
        require adc inside rating in every event
        require adc mapping error under {SiText.Plain(errorCounts == double.MaxValue ? 1e6 : errorCounts, "", 6)} counts
        require shift headroom over 0.5 V

        """;

    /// <summary>The rail of the sign that the span has to be shifted by.</summary>
    private string ShiftRail => Sensor.Low > 0 ? "VN" : "VDD";

    private static string V(double volts) => SiText.Format(volts, "V", 12);
}
