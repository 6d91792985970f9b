using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>design: which stage and values bring a sensor's span onto a pin.</summary>
internal sealed class DesignVerb : Command, IExample
{
    private readonly Argument<string?> _file =
        new("FILE")
        {
            Arity = ArgumentArity.ZeroOrOne,
            Description =
        "A circuit file whose shifting stage is left out, or waits for its op amp or resistors, or whose sensor is a resistance that "
        + "nothing feeds; without one, --sensor, --pin and --rails."
        };
    private readonly OutputForms _forms = new();
    private readonly DesignOptions _options = new();
    private readonly Option<int?> _pick = new("--pick")
    {
        HelpName = "N",
        Description =
        "Which candidate is completed and written, counted from the best; if not given, the best that meets what is required."
    };
    private readonly Option<string?> _write = new("--write", "-w")
    {
        HelpName = "FILE",
        Description =
        "Write the candidate as a circuit file that check passes, or the circuit file completed. An existing file stays, unless --force."
    };
    private readonly Option<bool> _force = new("--force")
    {
        Description =
        "Let --write replace an existing file; never the circuit file itself."
    };

    public DesignVerb()
        : base("design",
        "Ranks stages that bring a sensor's span onto a pin, with values to buy, each solved by the engine; says why others cannot.")
    {
        Arguments.Add(_file);
        _options.AddTo(this);
        foreach (var option in new Option[] { _pick, _write, _force })
            Options.Add(option);
        _forms.AddTo(this);
        SetAction((line, cancel) => Task.Run(() => Answer(line, cancel), cancel));
    }

    /// <inheritdoc/>
    public string Example => "design --sensor \"-1.2 V .. 1.8 V\" --pin \"0 V .. 3.3 V\" --rails \"9 V 5%, -9 V 5%\" --supply \"3.3 V 2%\" "
        + "--source \"220 ohm\" --fault \"24 V\" --write probe.fes";

    private int Answer(ParseResult line, CancellationToken cancel)
    {
        OutputFile.Check(Outputs(line), line.GetValue(_file) is { } file ? [file] : []);
        return _forms.Write(line, () => Run(line, cancel), cancel);
    }

    private IEnumerable<(string Option, string? Path)> Outputs(ParseResult line) =>
        [("--out", _forms.Target(line)), ("--write", line.GetValue(_write))];

    private Answer Run(ParseResult line, CancellationToken cancel)
    {
        string? file = line.GetValue(_file), written = line.GetValue(_write);
        if (written is not null)
        {
            OutputFile.Check(written);
            Refuse(written, line);
        }
        var circuit = file is null ? null : Load(file);
        if (circuit is { Stages.IsEmpty: true } && DividerDesignStudy.Unfed(circuit.FrontEnd, cancel) is { } unfed)
            return Divider(circuit, file!, written, _options.Divider(circuit, unfed, line, cancel), line, cancel);
        var target = circuit is null ? _options.FromOptions(line) : _options.FromFile(circuit, line);
        DesignResult result;
        using (var progress = new ProgressLine())
            result = DesignStudy.Run(target, progress, cancel);
        DesignProposal? proposal = null;
        if (!result.Candidates.IsEmpty)
            proposal = DesignProposal.Of(result, line.GetValue(_pick), circuit, written ?? file ?? "design.fes", cancel);
        bool holds = proposal is { Complete.Check.AllMet: true };
        if (holds && written is not null)
        {
            Refuse(written, line); // it may have appeared while the engine worked
            OutputFile.Write(written, proposal!.Text);
        }
        var taken = circuit is null ? [] : DesignText.Taken(circuit, target);
        var answer = new DesignAnswer(result, proposal?.Complete)
        {
            Number = proposal?.Number ?? 0,
            Source = file,
            Taken = [.. taken],
            Chosen = proposal?.Chosen ?? [],
            PassedOver = proposal?.PassedOver ?? [],
            WrittenTo = written,
        };
        return Cli.Verbs.Answer.Of(holds ? ExitCode.Met : ExitCode.NotMet, DesignPage.Of(answer), answer);
    }

    private Answer Divider(UnfinishedCircuit circuit, string file, string? written, DividerDesign design, ParseResult line,
        CancellationToken cancel)
    {
        int? pick = line.GetValue(_pick);
        if (pick is { } asked && (asked < 1 || asked > design.Candidates.Length))
            throw new InputException($"--pick {asked}: there are {design.Candidates.Length} candidates, counted from 1");
        var numbers = pick is { } one ? [one] : Enumerable.Range(1, design.Candidates.Length);
        (int Number, CheckResult Check, string Text)? best = null;
        foreach (int number in numbers)
        {
            string text = DesignText.Completed(circuit, design, design.Candidates[number - 1], written ?? file);
            // The text is read back and checked: it is the file that counts.
            var loaded = CircuitFile.Load(new SourceFile(written ?? file, text));
            var check = CheckStudy.Run(loaded.FrontEnd ?? throw new DiagnosticsException(loaded.Diagnostics), cancel: cancel);
            best ??= (number, check, text);
            if (!check.AllMet)
                continue;
            best = (number, check, text);
            break;
        }
        var picked = best!.Value;
        if (picked.Check.AllMet && written is not null)
        {
            Refuse(written, line); // it may have appeared while the engine worked
            OutputFile.Write(written, picked.Text);
        }
        var answer = new DividerAnswer(design, picked.Number, picked.Check, file,
            [.. DesignText.Chosen(circuit, design, design.Candidates[picked.Number - 1])], written);
        return Cli.Verbs.Answer.Of(picked.Check.AllMet ? ExitCode.Met : ExitCode.NotMet, DividerDesignPage.Of(answer), answer);
    }

    private static UnfinishedCircuit Load(string file)
    {
        if (file == "")
            throw new InputException("the name of the circuit file is empty");
        var (circuit, diagnostics) = UnfinishedCircuit.Load(file);
        if (circuit is null)
            throw new DiagnosticsException(diagnostics);
        foreach (var warning in diagnostics)
            Terminal.Tell(DiagnosticPrinter.Print(warning));
        return circuit;
    }

    private void Refuse(string file, ParseResult line)
    {
        if (File.Exists(file) && !line.GetValue(_force))
            throw new InputException($"'{file}' exists already and stays as it is; choose another name, or say --force");
    }
}
