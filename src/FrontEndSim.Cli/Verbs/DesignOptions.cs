using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Cli.Verbs;

/// <summary>What a stage is to be designed for: told by options alone, or by a circuit file and what it leaves open.</summary>
internal sealed class DesignOptions
{
    private const string InputNode = "IN", PinNode = "PIN";

    private readonly Option<string?> _sensor =
        new("--sensor") { HelpName = "V .. V", Description = "The sensor's lowest and highest voltage, such as \"-1.2 V .. 1.8 V\"." };
    private readonly Option<string?> _pin = new("--pin")
    {
        HelpName = "V .. V",
        Description =
        "Where that span is to land at the pin, such as \"0 V .. 3.3 V\"; with a FILE, all that the pin converts if not given."
    };
    private readonly Option<string?> _rails = new("--rails")
    {
        HelpName = "V, V",
        Description = "The rails at hand, such as \"9 V 5%, -9 V 5%\" (names may stand before: \"VA 9 V\")."
    };
    private readonly Option<string?> _supply = new("--supply")
    {
        HelpName = "V",
        Description = "The pin's supply, up to which it converts, such as \"3.3 V 2%\"; the upper end of --pin if not given."
    };
    private readonly QuantityOption _source = new("--source", Unit.Ohm, "The sensor's source resistance; 0 ohm if not given.");
    private readonly Option<int?> _bits = new("--bits")
    {
        HelpName = "N",
        Description = "Resolution of the converter, 1 to 24; 12 if not given."
    };
    private readonly Option<string[]> _fault = new("--fault")
    {
        HelpName = "V",
        AllowMultipleArgumentsPerToken = false,
        Description = "A voltage that may be put on the sensor terminal by mistake; both signs are tried. May be given again."
    };
    private readonly QuantityOption _faultSource = new("--fault-source", Unit.Ohm, "Resistance behind a fault; 1 ohm if not given.");
    private readonly Option<string[]> _surge = new("--surge")
    {
        HelpName = "V source OHMS",
        AllowMultipleArgumentsPerToken = false,
        Description = "A 1.2/50 surge on the sensor terminal, such as \"500 V source 42 ohm\"; both signs are tried. May be given again."
    };
    private readonly Option<string[]> _discharge = new("--discharge")
    {
        HelpName = "V",
        AllowMultipleArgumentsPerToken = false,
        Description = "A contact discharge to the sensor terminal, such as \"4 kV\"; both signs are tried. May be given again."
    };
    private readonly QuantityOption _injection =
        new("--injection", Unit.Amps, "Largest current through the pin's own clamps; 2 mA if not given.");
    private readonly QuantityOption _leakage = new("--leakage", Unit.Amps, "Largest leakage of the pin; 100 nA if not given.");
    private readonly QuantityOption _beyond =
        new("--beyond", Unit.Volts, "How far beyond its rails the pin may be taken; 0.3 V if not given.");
    private readonly Option<string?> _series =
        new("--series") { HelpName = "E12,E24", Description = "Series of preferred numbers to try; E12,E24,E96 if not given." };
    private readonly Option<string?> _tolerance =
        new("--tolerance") { HelpName = "%", Description = "Tolerance of the resistors; 1% if not given." };
    private readonly Option<string?> _opamps =
        new("--opamp") { HelpName = "CLASS,CLASS", Description = "Classes of op amp to try; all of the catalogue if not given." };

    private readonly Option<string?> _reference = new("--reference")
    {
        HelpName = "KIND",
        Description =
        "What the shift is taken from: rail, potentiometer or buffered (a divider behind a follower); the best if not given."
    };

    private readonly Option<string?> _aim = new("--aim")
    {
        HelpName = "AIM",
        Description = "With a FILE whose sensor is a resistance that nothing feeds: what its resistor is chosen for, linearity or "
            + "resolution; the least error of a reading if not given."
    };

    /// <summary>Those that a circuit file answers.</summary>
    private Option[] AnsweredByFile =>
        [_sensor, _rails, _supply, _source, _bits, _fault, _faultSource, _surge, _discharge, _injection, _leakage, _beyond];

    public void AddTo(Command verb)
    {
        foreach (var option in new Option[] { _sensor, _pin, _rails, _supply, _source, _bits, _series,
            _tolerance, _opamps, _reference, _aim, _fault, _faultSource, _surge, _discharge, _injection, _leakage, _beyond })
            verb.Options.Add(option);
    }

    /// <summary>The target that options tell.</summary>
    /// <exception cref="InputException">One is missing or wrong.</exception>
    public DesignTarget FromOptions(ParseResult line)
    {
        RefuseAim(line);
        if (line.GetValue(_sensor) is not { } sensorText || line.GetValue(_pin) is not { } pinText
            || line.GetValue(_rails) is not { } railsText)
        {
            string[] missing = [.. new[] { _sensor, _pin, _rails }.Where(o => line.GetValue(o) is null).Select(o => o.Name)];
            throw new InputException($"design wants a circuit FILE whose stage is unfinished, or else --sensor, --pin and --rails; "
                + $"{string.Join(" and ", missing)} {(missing.Length == 1 ? "is" : "are")} missing");
        }
        Span sensor = SpanOf("--sensor", sensorText), pin = SpanOf("--pin", pinText);
        var (rails, supply) = RailsOf(railsText, line.GetValue(_supply), pin);
        int bits = line.GetValue(_bits) ?? 12;
        if (bits is < 1 or > 24)
            throw new InputException($"--bits {bits}: a converter here has 1 to 24 bits");
        double source = NotNegative(_source, line) ?? 0, beyond = NotNegative(_beyond, line)
            ?? 0.3, injection = Positive(_injection, line) ?? 2e-3,
            leakage = NotNegative(_leakage, line) ?? 100e-9;
        ImmutableArray<FaultEvent> events = [.. Events(line)];
        if (!events.IsEmpty && source == 0)
            throw new InputException("a sensor without source resistance holds its terminal against any fault: give its --source "
                + "resistance, 1 ohm if nothing is known");
        if (!(supply.Volts.Value > 0))
            throw new InputException(
                $"the pin's supply {supply.Name} is at {SiText.Format(supply.Volts.Value, "V")}: name a positive rail as the --supply");
        var target = new DesignTarget
        {
            Surroundings = new FrontEnd
            {
                Title = $"{SpanText(sensor)} onto {SpanText(pin)}",
                Rails = [.. rails, supply],
                Sensors = [new Sensor("probe", InputNode, sensor, source)],
                Pins =
                [
                    new Pin("adc", PinNode)
                    {
                        RatedLow = new Level(null, -beyond),
                        RatedHigh = new Level(supply.Name, beyond),
                        InjectionAmps = injection,
                        Converter = new Converter(bits, new LevelSpan(new Level(null, 0), new Level(supply.Name, 0))),
                        LeakageAmps = leakage,
                    },
                ],
                Events = events,
            },
            Gap = new DesignGap("probe", "adc", InputNode, PinNode),
            Onto = pin,
            Assumed = [new PinTaken(bits, supply.Name, leakage, beyond, injection)],
        };
        return WithParts(target, line, PartCatalogue.Standard);
    }

    /// <summary>The target that a file tells, with the options that may stand beside one.</summary>
    /// <exception cref="InputException">An option says what the file says, or is wrong.</exception>
    /// <exception cref="StudyProblemException">The file leaves nothing open, or too much.</exception>
    public DesignTarget FromFile(UnfinishedCircuit circuit, ParseResult line)
    {
        RefuseAim(line);
        if (AnsweredByFile.FirstOrDefault(o => line.GetResult(o) is { Implicit: false }) is { } told)
            throw new InputException(
                $"{told.Name} cannot stand beside a circuit file, which says that itself: change the file, or leave out one of the two");
        if (circuit.Stages.Length > 1)
            throw new InputException(
                $"{circuit.Stages.Length} stages are unfinished ({string.Join(", ", circuit.Stages.Select(s => s.Request.Name))}), and a "
                + $"design is for one: give the others their op amps and resistors first");
        var frontEnd = circuit.FrontEnd;
        if (circuit.Stages.FirstOrDefault() is { } open)
        {
            if (line.GetValue(_pin) is not null)
                throw new InputException(
                    $"--pin cannot stand beside stage {open.Request.Name}, whose \"maps\" line says where the span lands");
            var target = new DesignTarget
            {
                Surroundings = frontEnd,
                Gap = DesignGap.Of(frontEnd, open.Request),
                Onto = open.Request.Get(StageKind.Maps).Span,
                StageName = open.Request.Name,
                Kinds = [open.Request.Kind.Name],
                Decided = open.Request.Values.Without(StageKind.Ends, StageKind.Maps),
                AddsRequirements = !circuit.HasRequirements,
            };
            return WithParts(target, line, circuit.Catalogue);
        }
        var gap = DesignGap.In(frontEnd);
        var left = new DesignTarget
        {
            Surroundings = frontEnd,
            Gap = gap,
            Onto = line.GetValue(_pin) is { } pin ? SpanOf("--pin", pin) : WholeRange(frontEnd, gap),
            StageName = circuit.LeftOut ?? DesignCompletion.FreeName(frontEnd, "shift"),
            AddsRequirements = !circuit.HasRequirements,
        };
        return WithParts(left, line, circuit.Catalogue);
    }

    private void RefuseAim(ParseResult line)
    {
        if (line.GetValue(_aim) is not null)
            throw new InputException("--aim is for a circuit FILE whose sensor is a resistance to ground that nothing feeds");
    }

    /// <summary>The resistor for a sensor that nothing feeds in a file, with the options that may stand beside one.</summary>
    /// <exception cref="InputException">An option has no meaning there, or is wrong.</exception>
    /// <exception cref="StudyProblemException">No pin reads the sensor, or no rail can feed it.</exception>
    public DividerDesign Divider(UnfinishedCircuit circuit, Sensor sensor, ParseResult line, CancellationToken cancel)
    {
        if (AnsweredByFile.Concat([_pin, _opamps, _reference]).FirstOrDefault(o => line.GetResult(o) is { Implicit: false }) is { } told)
            throw new InputException($"{told.Name} has no meaning here: sensor {sensor.Name} wants a resistor that feeds it, and no more");
        DividerAim? aim = line.GetValue(_aim) switch
        {
            null => null,
            "linearity" => DividerAim.Linearity,
            "resolution" => DividerAim.Resolution,
            var other => throw Unknown("--aim", other, ["linearity", "resolution"]),
        };
        return DividerDesignStudy.Run(circuit.FrontEnd, sensor, circuit.LeftOut ?? DesignCompletion.FreeName(circuit.FrontEnd, "divide"),
            SeriesOf(line) ?? [ESeries.E12, ESeries.E24, ESeries.E96], line.GetValue(_tolerance) is { } t ? ToleranceOf(t) : 0.01,
            aim, cancel);
    }

    private ImmutableArray<ESeries>? SeriesOf(ParseResult line) => line.GetValue(_series) is not { } list ? null
        : [.. list.Split(',').Select(s => ESeries.Find(s.Trim()) ?? throw Unknown("--series", s.Trim(), ESeries.All.Select(e => e.Name)))];

    private static Span WholeRange(FrontEnd frontEnd, DesignGap gap)
    {
        var pin = frontEnd.FindPin(gap.Pin);
        return pin.Converter is { } converter ? converter.Range(frontEnd.Rails)
            : throw new InputException($"pin {pin.Name} does not convert, so nothing says where the span is to land: add \"converts 12 "
                + $"bits over 0 V .. RAIL\" below it");
    }

    /// <summary>The series, tolerance and classes of op amp to choose from; what the file's stage decides goes before and excludes the
    /// option.</summary>
    private DesignTarget WithParts(DesignTarget target, ParseResult line, PartCatalogue catalogue)
    {
        bool IsDecided<T>(Setting<T> setting, Option<string?> option, out T? value) where T : notnull
        {
            bool isDecided = target.Decided.TryGet(setting, out value);
            return !isDecided || line.GetValue(option) is null ? isDecided
                : throw new InputException($"{option.Name} cannot stand beside stage {target.StageName}, which says that itself");
        }

        string[] kinds = [.. Enum.GetNames<ReferenceKind>().Select(n => n.ToLowerInvariant())];
        if (line.GetValue(_reference) is { } reference)
        {
            target = target with
            {
                Reference = kinds.Contains(reference) ? Enum.Parse<ReferenceKind>(reference, ignoreCase: true)
                    : throw Unknown("--reference", reference, kinds),
            };
        }
        target = target with { OpAmps = [.. catalogue.OpAmps] };
        if (IsDecided(StageKind.PreferredResistors, _series, out var resistors))
        {
            target = target with { Series = [resistors.Value], Tolerance = resistors.Tolerance ?? resistors.Value.UsualTolerance };
            if (line.GetValue(_tolerance) is not null)
                throw new InputException($"--tolerance cannot stand beside stage {target.StageName}, which says that itself");
        }
        else
        {
            if (SeriesOf(line) is { } series)
                target = target with { Series = series };
            if (line.GetValue(_tolerance) is { } tolerance)
                target = target with { Tolerance = ToleranceOf(tolerance) };
        }
        if (IsDecided(StageKind.OpAmp, _opamps, out var supplied))
            return target with { OpAmps = [supplied.Type] };
        return line.GetValue(_opamps) is not { } opamps ? target
            : target with
            {
                OpAmps = [.. opamps.Split(',')
                .Select(s => catalogue.FindOpAmp(s.Trim()) ?? throw Unknown("--opamp", s.Trim(), catalogue.OpAmpNames))]
            };
    }

    private IEnumerable<FaultEvent> Events(ParseResult line)
    {
        double ohms = Positive(_faultSource, line) ?? 1;
        double[] faults = [.. (line.GetValue(_fault) ?? []).SelectMany(text => BothSigns(Number("--fault", text, Unit.Volts))).Distinct()];
        foreach (double volts in faults)
            yield return new($"{SiText.Format(volts, "V")} put on the sensor terminal", InputNode, new StepTo(volts, ohms, 1e-3, 50e-3));
        foreach (string text in line.GetValue(_surge) ?? [])
        {
            foreach (var surge in BothPolarities(Happening("--surge", "surge 1.2/50 peak " + text, text)))
                yield return new($"surge of {SiText.Format(surge.DriveVolts!.Value, "V")} on the sensor terminal", InputNode, surge);
        }
        foreach (string text in line.GetValue(_discharge) ?? [])
        {
            foreach (var discharge in BothPolarities(Happening("--discharge", "discharge " + text, text)))
                yield return new($"discharge of {SiText.Format(discharge.DriveVolts!.Value, "V")} to the sensor terminal",
                    InputNode, discharge);
        }
    }

    private static Disturbance Happening(string option, string words, string given)
    {
        var (disturbance, problem) = QuantityReader.ReadDisturbance(words, option);
        return disturbance ?? throw new InputException($"{option} '{given}': {problem!.Message}"
            + (problem.Expected is { } expected ? $" Expected: {expected}." : "")
                + (option == "--surge" ? " Such as \"500 V source 42 ohm\"." : " Such as \"4 kV\"."));
    }

    private static IEnumerable<Disturbance> BothPolarities(Disturbance disturbance) => [disturbance, disturbance.Scaled(-1)!];

    private static double[] BothSigns(double volts) => volts == 0 ? [0] : [volts, -volts];

    /// <summary>The rails other than the pin's supply, and that.</summary>
    private static (List<Rail> Rails, Rail Supply) RailsOf(string text, string? supplyText, Span pin)
    {
        var rails = text.Split(',').Select(t => RailOf("--rails", t.Trim(), null)).ToList();
        string[] positive = ["VP", "VP2", "VP3", "VP4", "VP5", "VP6"], negative = ["VN", "VN2", "VN3", "VN4", "VN5", "VN6"];
        string Free(IEnumerable<string> names) => names.FirstOrDefault(n => rails.All(r => r.Name != n))
            ?? throw new InputException("--rails: more rails than can be named; give each a name, such as \"VA 9 V\"");
        var supply = supplyText is { } given ? RailOf("--supply", given.Trim(), "VDD") with { Name = "VDD" } : null;
        // Without --supply, a rail at the upper end of the pin's span is taken for the pin's, or else one is made there.
        if (supply is null && rails.FirstOrDefault(r => Math.Abs(r.Volts.Value - pin.High) < 1e-9) is { } same)
        {
            rails.Remove(same);
            supply = same.Name == "" ? same with { Name = "VDD" } : same;
        }
        supply ??= new Rail("VDD", pin.High) { SourceOnly = true };
        // The pin's supply may be named among the rails at hand: it is the same one.
        if (supplyText is not null)
            rails.RemoveAll(r => r.Name == supply.Name && Math.Abs(r.Volts.Value - supply.Volts.Value) < 1e-9);
        for (int k = 0; k < rails.Count; k++)
        {
            if (rails[k].Volts.Value == 0)
                throw new InputException("--rails: a rail of 0 V is ground, which is always at hand; leave it out");
            if (rails[k].Name == "")
                rails[k] = rails[k] with { Name = Free(rails[k].Volts.Value > 0 ? positive : negative) };
            if (rails[k].Name == supply.Name || rails.Count(r => r.Name == rails[k].Name) > 1)
            {
                throw new InputException(rails[k].Name == supply.Name
                    ? $"--rails: {rails[k].Name} is {SiText.Format(rails[k].Volts.Value, "V")}, but the pin's supply of that name is "
                        + $"{SiText.Format(supply.Volts.Value, "V")}; call one of them otherwise"
                    : $"--rails: two rails are named {rails[k].Name}");
            }
        }
        return (rails, supply);
    }

    private static double ToleranceOf(string text)
    {
        double value = Number("--tolerance", text, Unit.Percent);
        return value is >= 0 and < 0.5 ? value
            : throw new InputException($"--tolerance '{text}': a tolerance lies between 0 % and 50 %, such as 1%");
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
        double volts = Number(option, string.Join(' ', words), Unit.Volts);
        return new Rail(name ?? "", new Toleranced(volts, tolerance)) { SourceOnly = volts != 0 }; // as of a circuit file that does not say
    }

    private static Span SpanOf(string option, string text)
    {
        var ends = text.Split("..");
        if (ends.Length != 2)
            throw new InputException($"{option} '{text}': a span has two ends, such as \"-1.2 V .. 1.8 V\"");
        double low = Number(option, ends[0], Unit.Volts), high = Number(option, ends[1], Unit.Volts);
        string turned = $"\"{SiText.Format(high, "V")} .. {SiText.Format(low, "V")}\"";
        return low < high ? new Span(low, high)
            : low == high ? throw new InputException(
                $"{option} '{text}': the span is empty, and a sensor that does not change measures nothing; give two different ends")
            : throw new InputException($"{option} '{text}': the span is reversed; write the lower end first, {turned}");
    }

    private static string SpanText(Span span) => $"{SiText.Format(span.Low, "V")} .. {SiText.Format(span.High, "V")}";

    private static double Number(string option, string text, Unit unit)
    {
        var (value, problem) = QuantityReader.Read(text, unit, option);
        return value ?? throw new InputException($"{option} '{text.Trim()}': {problem!.Message}"
            + (problem.Suggestion is { } suggestion ? $" Try {suggestion}." : problem.Expected is { } expected
                ? $" Expected: {expected}." : ""));
    }

    private static double? Positive(QuantityOption option, ParseResult line) => option.Value(line) is not { } value ? null
        : value > 0 ? value : throw new InputException(FormattableString.Invariant($"{option.Name} must be above zero, but is {value}"));

    private static double? NotNegative(QuantityOption option, ParseResult line) => option.Value(line) is not { } value ? null
        : value >= 0 ? value : throw new InputException(FormattableString.Invariant($"{option.Name} must not be negative, but is {value}"));

    private static InputException Unknown(string option, string text, IEnumerable<string> known) =>
        new($"{option} '{text}': known are {string.Join(", ", known)}"
            + (Nearest.Of(text, known) is { } near ? $"; did you mean {near}?" : ""));
}
