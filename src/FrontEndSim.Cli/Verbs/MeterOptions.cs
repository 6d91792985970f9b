using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Build;

namespace FrontEndSim.Cli.Verbs;

/// <summary>The options that say what meter stands at the bench.</summary>
internal sealed class MeterOptions
{
    private readonly QuantityOption _accuracy = new("--meter", Unit.Percent, "The meter's accuracy, such as 0.1%; 0.5% if not given.");
    private readonly QuantityOption _floor = new("--meter-floor", Unit.Volts, "Its error at 0 V; 2 mV if not given.");
    private readonly QuantityOption _input = new("--meter-input", Unit.Ohm, "Its input resistance; 10 Mohm if not given.");

    public void AddTo(Command verb)
    {
        foreach (var option in new Option[] { _accuracy, _floor, _input })
            verb.Options.Add(option);
    }

    /// <summary>The meter.</summary>
    /// <exception cref="InputException">There is no such meter.</exception>
    public BenchMeter Value(ParseResult line)
    {
        var usual = new BenchMeter();
        var meter = new BenchMeter(_accuracy.Value(line) ?? usual.Accuracy, _floor.Value(line)
            ?? usual.FloorVolts, _input.Value(line) ?? usual.InputOhms);
        return meter is { Accuracy: >= 0 and < 0.5, FloorVolts: >= 0, InputOhms: > 0 } ? meter
            : throw new InputException(
                "--meter: a meter has an accuracy from 0 % to 50 %, a floor of 0 V or more and an input resistance above 0 ohm");
    }
}
