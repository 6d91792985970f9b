using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding;
using Spectre.Console;

namespace FrontEndSim.Cli.Verbs;

/// <summary>start: a first circuit file that holds, to be changed from there.</summary>
internal sealed class StartVerb : Command, IExample
{
    private readonly Argument<string> _name =
        new("NAME") { Description = "Name of the circuit; NAME.fes is written and must not exist yet." };
    private readonly Option<string?> _sensor = new("--sensor")
    {
        HelpName = "V .. V",
        Description = "The sensor's lowest and highest voltage, such as \"-1.2 V .. 1.8 V\" (which is taken if not given)."
    };
    private readonly QuantityOption _source = new("--source", Unit.Ohm, "The sensor's source resistance; 220 ohm if not given.");
    private readonly QuantityOption _pin = new("--pin", Unit.Volts, "Supply and full scale of the converter pin; 3.3 V if not given.");
    private readonly Option<int?> _bits = new("--bits") { HelpName = "N", Description = "Resolution of the converter; 12 if not given." };
    private readonly QuantityOption _supply =
        new("--supply", Unit.Volts, "Supply of the op amps, either side of ground; 9 V if not given.");
    private readonly QuantityOption _fault =
        new("--fault", Unit.Volts, "What may be put on the sensor terminal by mistake; 24 V if not given.");

    /// <inheritdoc/>
    public string Example => "start tank --sensor \"-1.2 V .. 1.8 V\" --pin \"3.3 V\"";

    public StartVerb()
        : base("start", "Writes a commented starter circuit that check passes at once. On a terminal it asks, if no option is given.")
    {
        Arguments.Add(_name);
        foreach (var option in new Option[] { _sensor, _source, _pin, _bits, _supply, _fault })
            Options.Add(option);
        SetAction((line, cancel) => Task.Run(() => Start(line, cancel), cancel));
    }

    private int Start(ParseResult line, CancellationToken cancel)
    {
        string name = line.GetRequiredValue(_name), file = name.EndsWith(".fes", StringComparison.OrdinalIgnoreCase) ? name : name + ".fes";
        if (Path.GetFileNameWithoutExtension(file) == "")
            throw new InputException($"start needs a NAME for the circuit, not '{name}'");
        Refuse(file);
        OutputFile.Check(file); // before anybody is asked
        bool asks = !Console.IsInputRedirected && !Console.IsOutputRedirected && line.CommandResult.Children.Count() < 2;
        var usual = new Starter(SpanOf(line.GetValue(_sensor) ?? "-1.2 V .. 1.8 V"), _source.Value(line)
            ?? 220, _pin.Value(line) ?? 3.3, line.GetValue(_bits) ?? 12,
            _supply.Value(line) ?? 9, _fault.Value(line) ?? 24);
        string title = Path.GetFileNameWithoutExtension(file);
        string text = asks ? Asked(Terminal.Interactive(), usual, title, file, cancel) : usual.Write(title, file, cancel);
        Refuse(file); // somebody may have been asked for minutes
        OutputFile.Write(file, text);
        Terminal.Write($"wrote {file}; next: frontendsim check {file}\n");
        return ExitCode.Met;
    }

    /// <summary>Asks until a circuit comes of the answers; those given stand in brackets the next time.</summary>
    internal static string Asked(IAnsiConsole console, Starter usual, string title, string file, CancellationToken cancel)
    {
        console.WriteLine("Enter takes what stands in brackets. Ctrl-C ends it, and writes nothing.");
        while (true)
        {
            try
            {
                usual = new StarterQuestions(console).Ask(usual, cancel);
                return usual.Write(title, file, cancel);
            }
            catch (OperationCanceledException)
            {
                console.WriteLine(); // the question's line stands open
                throw;
            }
            catch (InputException impossible)
            {
                console.WriteLine(char.ToUpperInvariant(impossible.Message[0]) + impossible.Message[1..]);
            }
        }
    }

    private static void Refuse(string file)
    {
        if (File.Exists(file) || Directory.Exists(file))
            throw new InputException($"'{file}' exists already and stays as it is; choose another name");
    }

    private static Span SpanOf(string text)
    {
        var (span, problem) = QuantityReader.ReadSpan(text, Unit.Volts, "--sensor");
        return span ?? throw new InputException($"--sensor '{text}': {QuantityOption.Words(problem!)}");
    }
}
