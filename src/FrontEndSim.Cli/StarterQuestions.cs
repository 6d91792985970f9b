using FrontEndSim.Cli.Verbs;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding;
using Spectre.Console;

namespace FrontEndSim.Cli;

/// <summary>Asks a person at a terminal what a starter circuit is to be made for; a wrong answer is explained and asked for
/// again.</summary>
/// <param name="console">The terminal.</param>
internal sealed class StarterQuestions(IAnsiConsole console)
{
    /// <summary>Asks all questions; Enter takes what stands in brackets.</summary>
    /// <param name="usual">What stands in brackets.</param>
    /// <param name="cancel">Ends the asking.</param>
    /// <exception cref="OperationCanceledException">Ctrl-C or Ctrl-D: the person wants no circuit.</exception>
    public Starter Ask(Starter usual, CancellationToken cancel)
    {
        return new(
            One("Sensor's lowest and highest voltage", $"{Text(usual.Sensor.Low, Unit.Volts)} .. {Text(usual.Sensor.High, Unit.Volts)}",
                Span),
            Number("Sensor's source resistance", usual.SourceOhms, Unit.Ohm),
            Positive("Supply and full scale of the pin", usual.PinVolts),
            One("Resolution of the converter in bits", usual.Bits.ToString(System.Globalization.CultureInfo.InvariantCulture), text =>
                int.TryParse(text, out int bits) && bits is >= 1 and <= 32 ? (bits, null) : (0, "Expected: a whole number from 1 to 32.")),
            Positive("Supply of the op amps, either side of ground", usual.SupplyVolts),
            Number("Voltage put on the sensor's terminal by mistake", usual.FaultVolts, Unit.Volts));

        double Number(string question, double value, Unit unit) => One(question, Text(value, unit), text => Read(text, unit));

        double Positive(string question, double value) => One(question, Text(value, Unit.Volts), text => Read(text, Unit.Volts) switch
        {
            (not > 0, null) => (0, "Expected: a voltage above 0 V."),
            var read => read,
        });

        T One<T>(string question, string value, Func<string, (T Value, string? Problem)> read)
        {
            var prompt = new TextPrompt<string>(Markup.Escape(question)).DefaultValue(value)
                .Validate(text => read(text).Problem is { } problem ? ValidationResult.Error(Markup.Escape(problem))
                    : ValidationResult.Success());
            return read(prompt.ShowAsync(console, cancel).GetAwaiter().GetResult()).Value;
        }
    }

    private static (Span Value, string? Problem) Span(string text)
    {
        var (span, problem) = QuantityReader.ReadSpan(text, Unit.Volts, "span");
        return (span ?? default, problem is null ? null : QuantityOption.Words(problem));
    }

    private static (double Value, string? Problem) Read(string text, Unit unit)
    {
        var (value, problem) = QuantityReader.Read(text, unit);
        return (value ?? 0, problem is null ? null : QuantityOption.Words(problem));
    }

    private static string Text(double value, Unit unit) => SiText.Typed(value, unit.Symbol);
}
