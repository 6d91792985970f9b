using System.CommandLine;
using FrontEndSim.FrontEnds;
using FrontEndSim.Language;

namespace FrontEndSim.Cli.Verbs;

/// <summary>start: a first circuit file that holds, to be changed from there.</summary>
internal sealed class StartVerb : Command, IExample
{
    private readonly Argument<string> _name = new("NAME") { Description = "Name of the circuit; NAME.fes is written and must not exist yet." };
    private readonly Option<string?> _sensor = new("--sensor") { HelpName = "V .. V", Description = "The sensor's lowest and highest voltage, such as \"-1.2 V .. 1.8 V\" (which is taken if not given)." };
    private readonly QuantityOption _source = new("--source", Unit.Ohm, "The sensor's source resistance; 220 ohm if not given.");
    private readonly QuantityOption _pin = new("--pin", Unit.Volts, "Supply and full scale of the converter pin; 3.3 V if not given.");
    private readonly Option<int?> _bits = new("--bits") { HelpName = "N", Description = "Resolution of the converter; 12 if not given." };
    private readonly QuantityOption _supply = new("--supply", Unit.Volts, "Supply of the op amps, either side of ground; 9 V if not given.");
    private readonly QuantityOption _fault = new("--fault", Unit.Volts, "What may be put on the sensor terminal by mistake; 24 V if not given.");

    /// <inheritdoc/>
    public string Example => "start tank --sensor \"-1.2 V .. 1.8 V\" --pin \"3.3 V\"";

    public StartVerb() : base("start", "Writes a commented starter circuit that check passes at once. Asks on a terminal for what no option gives.")
    {
        Arguments.Add(_name);
        foreach (var option in new Option[] { _sensor, _source, _pin, _bits, _supply, _fault })
            Options.Add(option);
        SetAction((line, cancel) => Task.Run(() => Start(line, cancel), cancel));
    }

    private int Start(ParseResult line, CancellationToken cancel)
    {
        string name = line.GetRequiredValue(_name), file = name.EndsWith(".fes", StringComparison.OrdinalIgnoreCase) ? name : name + ".fes";
        Refuse(file);
        bool asks = !Console.IsInputRedirected && !Console.IsOutputRedirected && line.CommandResult.Children.Count() < 2;
        var wish = new Starter(
            SpanOf(line.GetValue(_sensor) ?? Ask("sensor's lowest and highest voltage", "-1.2 V .. 1.8 V")),
            _source.Value(line) ?? Number(Ask("sensor's source resistance", "220 ohm"), Unit.Ohm),
            _pin.Value(line) ?? Number(Ask("supply and full scale of the pin", "3.3 V"), Unit.Volts),
            line.GetValue(_bits) ?? (int)Number(Ask("resolution of the converter, bits", "12"), Unit.None),
            _supply.Value(line) ?? Number(Ask("supply of the op amps, either side of ground", "9 V"), Unit.Volts),
            _fault.Value(line) ?? Number(Ask("voltage put on the sensor terminal by mistake", "24 V"), Unit.Volts));
        string text = wish.Write(Path.GetFileNameWithoutExtension(file), file, cancel);
        Refuse(file); // somebody may have been asked for minutes
        OutputFile.Write(file, text);
        Console.Out.WriteLine($"wrote {file}; next: frontendsim check {file}");
        return ExitCode.Met;

        string Ask(string what, string usual)
        {
            if (!asks)
                return usual;
            Console.Out.Write($"{what} [{usual}]: ");
            return Console.In.ReadLine() is { } answer && answer.Trim() != "" ? answer : usual;
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
        return span ?? throw Wrong("--sensor", text, problem!);
    }

    private static double Number(string text, Unit unit)
    {
        var (value, problem) = QuantityReader.Read(text, unit);
        return value ?? throw Wrong("answer", text, problem!);
    }

    private static InputException Wrong(string what, string text, Diagnostic problem) => new($"{what} '{text}': {problem.Message}"
        + (problem.Suggestion is { } suggestion ? $" Try {suggestion}." : problem.Expected is { } expected ? $" Expected: {expected}." : ""));
}
