using System.CommandLine;
using System.Globalization;
using FrontEndSim.Cli.Screens;
using FrontEndSim.FrontEnds;
using FrontEndSim.Language;
using FrontEndSim.Reporting;

namespace FrontEndSim.Cli.Verbs;

/// <summary>design: which stage and values bring a sensor's span onto a pin.</summary>
internal sealed class DesignVerb : Command, IExample
{
    private readonly OutputForms _forms = new();
    private readonly Option<string> _sensor = new("--sensor") { HelpName = "V .. V", Required = true, Description = "The sensor's lowest and highest voltage, such as \"-1.2 V .. 1.8 V\"." };
    private readonly Option<string> _pin = new("--pin") { HelpName = "V .. V", Required = true, Description = "Where that span is to land at the pin, such as \"0 V .. 3.3 V\"." };
    private readonly Option<string> _rails = new("--rails") { HelpName = "V, V", Required = true, Description = "The rails at hand, such as \"9 V 5%, -9 V 5%\" (names may stand before: \"VA 9 V\")." };
    private readonly Option<string?> _supply = new("--supply") { HelpName = "V", Description = "The pin's supply, up to which it converts, such as \"3.3 V 2%\"; the upper end of --pin if not given." };
    private readonly QuantityOption _source = new("--source", Unit.Ohm, "The sensor's source resistance; 0 ohm if not given.");
    private readonly Option<int?> _bits = new("--bits") { HelpName = "N", Description = "Resolution of the converter, 1 to 24; 12 if not given." };
    private readonly Option<string?> _series = new("--series") { HelpName = "E12,E24", Description = "Series of preferred numbers to try; E12,E24,E96 if not given." };
    private readonly Option<string?> _tolerance = new("--tolerance") { HelpName = "%", Description = "Tolerance of the resistors; 1% if not given." };
    private readonly Option<string?> _opamps = new("--opamp") { HelpName = "CLASS,CLASS", Description = "Classes of op amp to try; all of the catalogue if not given." };
    private readonly Option<string[]> _fault = new("--fault") { HelpName = "V", AllowMultipleArgumentsPerToken = false, Description = "A voltage that may be put on the sensor terminal by mistake; both signs are tried. May be given again." };
    private readonly QuantityOption _faultSource = new("--fault-source", Unit.Ohm, "Resistance behind a fault; 1 ohm if not given.");
    private readonly QuantityOption _injection = new("--injection", Unit.Amps, "Largest current through the pin's own clamps; 2 mA if not given.");
    private readonly QuantityOption _leakage = new("--leakage", Unit.Amps, "Largest leakage of the pin; 100 nA if not given.");
    private readonly QuantityOption _beyond = new("--beyond", Unit.Volts, "How far beyond its rails the pin may be taken; 0.3 V if not given.");
    private readonly Option<int> _pick = new("--pick") { HelpName = "N", DefaultValueFactory = _ => 1, Description = "Which candidate is completed and written, counted from the best; 1 if not given." };
    private readonly Option<string?> _write = new("--write", "-w") { HelpName = "FILE", Description = "Write the candidate as a circuit file that check passes. An existing file stays, unless --force." };
    private readonly Option<bool> _force = new("--force") { Description = "Let --write replace an existing file." };

    public DesignVerb() : base("design", "Ranks stages that bring a sensor's span onto a pin, with values to buy, each solved by the engine; says why others cannot.")
    {
        foreach (var option in new Option[]
        {
            _sensor, _pin, _rails, _supply, _source, _bits, _series, _tolerance, _opamps, _fault, _faultSource, _injection, _leakage, _beyond, _pick, _write, _force,
        })
            Options.Add(option);
        _forms.AddTo(this);
        SetAction((line, cancel) => Task.Run(() => _forms.Write(line, () => Run(line, cancel), cancel), cancel));
    }

    /// <inheritdoc/>
    public string Example => "design --sensor \"-1.2 V .. 1.8 V\" --pin \"0 V .. 3.3 V\" --rails \"9 V 5%, -9 V 5%\" --supply \"3.3 V 2%\" "
        + "--source \"220 ohm\" --fault \"24 V\" --write probe.fes";

    private Answer Run(ParseResult line, CancellationToken cancel)
    {
        string? file = line.GetValue(_write);
        Refuse(file, line);
        var wish = Wish(line);
        DesignResult result;
        using (var progress = new ProgressLine())
            result = DesignStudy.Run(wish, progress, cancel);
        int pick = line.GetValue(_pick);
        if (!result.Candidates.IsEmpty && (pick < 1 || pick > result.Candidates.Length))
            throw new InputException($"--pick {pick}: there are {result.Candidates.Length} candidates, counted from 1");
        CompleteDesign? complete = null;
        if (!result.Candidates.IsEmpty)
            complete = DesignCompletion.Run(wish, result.Candidates[pick - 1], cancel);
        if (file is not null && complete is not null)
            Write(file, complete, wish, line, cancel);
        return new Answer(result.Candidates.IsEmpty ? ExitCode.NotMet : ExitCode.Met,
            () => DesignScreen.Of(result, complete, pick, file), () => DesignDocument.Json(result, complete), () => DesignDocument.CsvText(result));
    }

    /// <summary>The text is read back and checked before it is written: a file that does not hold is a fault of the program.</summary>
    private void Write(string file, CompleteDesign complete, DesignWish wish, ParseResult line, CancellationToken cancel)
    {
        string text = DesignText.Of(complete, wish);
        var loaded = CircuitFile.Load(new SourceFile(file, text));
        if (loaded.FrontEnd is null)
            throw new InvalidOperationException("the design does not read back: " + loaded.Diagnostics[0].Message);
        var check = CheckStudy.Run(loaded.FrontEnd, cancel: cancel);
        if (check.Requirements.FirstOrDefault(r => !r.Met) is { } missed)
            throw new InvalidOperationException($"the design does not hold: {missed.Requirement.Text}: {missed.Reason}");
        Refuse(file, line); // it may have appeared while the engine worked
        OutputFile.Write(file, text);
    }

    private void Refuse(string? file, ParseResult line)
    {
        if (file is not null && File.Exists(file) && !line.GetValue(_force))
            throw new InputException($"'{file}' exists already and stays as it is; choose another name, or say --force");
    }

    private DesignWish Wish(ParseResult line)
    {
        Span sensor = SpanOf("--sensor", line.GetRequiredValue(_sensor)), pin = SpanOf("--pin", line.GetRequiredValue(_pin));
        var rails = line.GetRequiredValue(_rails).Split(',').Select((text, k) => RailOf("--rails", text.Trim(), null)).ToList();
        string[] positive = ["VP", "VP2", "VP3", "VP4", "VP5", "VP6"], negative = ["VN", "VN2", "VN3", "VN4", "VN5", "VN6"];
        string Free(IEnumerable<string> names) => names.FirstOrDefault(n => rails.All(r => r.Name != n)) ?? throw new InputException("--rails: more rails than can be named; give each a name, such as \"VA 9 V\"");
        var supply = line.GetValue(_supply) is { } given ? RailOf("--supply", given.Trim(), "VDD") with { Name = "VDD" } : null;
        // Without --supply, a rail at the upper end of the pin's span is taken for the pin's, or else one is made there.
        if (supply is null && rails.FirstOrDefault(r => Math.Abs(r.Volts.Value - pin.High) < 1e-9) is { } same)
        {
            rails.Remove(same);
            supply = same.Name == "" ? same with { Name = "VDD" } : same;
        }
        supply ??= new Rail("VDD", pin.High);
        for (int k = 0; k < rails.Count; k++)
        {
            if (rails[k].Volts.Value == 0)
                throw new InputException("--rails: a rail of 0 V is ground, which is always at hand; leave it out");
            if (rails[k].Name == "")
                rails[k] = rails[k] with { Name = Free(rails[k].Volts.Value > 0 ? positive : negative) };
            if (rails[k].Name == supply.Name || rails.Count(r => r.Name == rails[k].Name) > 1)
                throw new InputException($"--rails: two rails are named {rails[k].Name}");
        }
        var wish = new DesignWish
        {
            Sensor = sensor,
            Pin = pin,
            Rails = [.. rails, supply],
            Supply = supply.Name,
            SourceOhms = NotNegative(_source, line) ?? 0,
            Bits = line.GetValue(_bits) ?? 12,
            FaultOhms = Positive(_faultSource, line) ?? 1,
            InjectionAmps = Positive(_injection, line) ?? 2e-3,
            LeakageAmps = NotNegative(_leakage, line) ?? 100e-9,
            BeyondRailVolts = NotNegative(_beyond, line) ?? 0.3,
            FaultVolts = [.. (line.GetValue(_fault) ?? []).SelectMany(text => Faults(Number("--fault", text, Unit.Volts))).Distinct()],
            Tolerance = line.GetValue(_tolerance) is { } tolerance ? Tolerance(tolerance) : 0.01,
        };
        if (wish.Bits is < 1 or > 24)
            throw new InputException($"--bits {wish.Bits}: a converter here has 1 to 24 bits");
        if (line.GetValue(_series) is { } series)
            wish = wish with { Series = [.. series.Split(',').Select(s => ESeries.Find(s.Trim()) ?? throw Unknown("--series", s.Trim(), ESeries.All.Select(e => e.Name)))] };
        if (line.GetValue(_opamps) is { } opamps)
            wish = wish with { OpAmps = [.. opamps.Split(',').Select(s => PartCatalogue.Standard.FindOpAmp(s.Trim()) ?? throw Unknown("--opamp", s.Trim(), PartCatalogue.Standard.OpAmpNames))] };
        return wish;
    }

    private static double[] Faults(double volts) => volts == 0 ? [0] : [volts, -volts];

    private static double Tolerance(string text)
    {
        double value = Number("--tolerance", text, Unit.Percent);
        return value is >= 0 and < 0.5 ? value : throw new InputException($"--tolerance '{text}': a tolerance lies between 0 % and 50 %, such as 1%");
    }

    /// <summary>"9 V", "9 V 5%", "VA 9 V 5%".</summary>
    private static Rail RailOf(string option, string text, string? name)
    {
        var words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries).ToList();
        double tolerance = 0;
        if (words.Count > 1 && words[^1] == "%")
        {
            words[^2] += "%";
            words.RemoveAt(words.Count - 1);
        }
        if (words.Count > 1 && words[^1].EndsWith('%'))
        {
            tolerance = Number(option, words[^1], Unit.Percent);
            words.RemoveAt(words.Count - 1);
        }
        if (words.Count > 1 && char.IsLetter(words[0][0]))
        {
            name ??= words[0];
            words.RemoveAt(0);
        }
        if (tolerance is < 0 or >= 0.5)
            throw new InputException($"{option} '{text}': a tolerance lies between 0 % and 50 %, such as 5%");
        return new Rail(name ?? "", new Toleranced(Number(option, string.Join(' ', words), Unit.Volts), tolerance));
    }

    private static Span SpanOf(string option, string text)
    {
        var ends = text.Split("..");
        if (ends.Length != 2)
            throw new InputException($"{option} '{text}': a span has two ends, such as \"-1.2 V .. 1.8 V\"");
        double low = Number(option, ends[0], Unit.Volts), high = Number(option, ends[1], Unit.Volts);
        string turned = $"\"{SiText.Format(high, "V")} .. {SiText.Format(low, "V")}\"";
        return low < high ? new Span(low, high)
            : low == high ? throw new InputException($"{option} '{text}': the span is empty, and a sensor that does not change measures nothing; give two different ends")
            : throw new InputException($"{option} '{text}': the span is reversed; write the lower end first, {turned}");
    }

    private static double Number(string option, string text, Unit unit)
    {
        var (value, problem) = QuantityReader.Read(text, unit, option);
        return value ?? throw new InputException($"{option} '{text.Trim()}': {problem!.Message}"
            + (problem.Suggestion is { } suggestion ? $" Try {suggestion}." : problem.Expected is { } expected ? $" Expected: {expected}." : ""));
    }

    private static double? Positive(QuantityOption option, ParseResult line) => option.Value(line) is not { } value ? null
        : value > 0 ? value : throw new InputException($"{option.Name} must be above zero, but is {value.ToString(CultureInfo.InvariantCulture)}");

    private static double? NotNegative(QuantityOption option, ParseResult line) => option.Value(line) is not { } value ? null
        : value >= 0 ? value : throw new InputException($"{option.Name} must not be negative, but is {value.ToString(CultureInfo.InvariantCulture)}");

    private static InputException Unknown(string option, string text, IEnumerable<string> known) =>
        new($"{option} '{text}': known are {string.Join(", ", known)}" + (Nearest.Of(text, known) is { } near ? $"; did you mean {near}?" : ""));
}
