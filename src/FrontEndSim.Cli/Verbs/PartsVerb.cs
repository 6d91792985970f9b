using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>parts: the catalogue of diodes, transistors, op amps and other parts, and of types of pin, listed, searched, or one of them
/// with its fit and its curve.</summary>
internal sealed class PartsVerb : Command, IExample
{
    private readonly Argument<string[]> _words = new("WORDS")
    {
        Arity = ArgumentArity.ZeroOrMore,
        Description = "A type's name to see all of it, or words to search for (such as: schottky, or: zener 5V1); all types if not given.",
    };

    private readonly PlotOption _plot = new("the part's current against voltage, on a logarithmic scale");

    private readonly Option<string?> _from = new("--from")
    {
        HelpName = "FILE",
        Description = "A circuit file whose own part types are listed, or searched before the others.",
    };

    private readonly OutputForms _forms = new();

    public PartsVerb()
        : base("parts",
        "Lists and searches the types of part and pin that can be named, with their sources; shows how well a model fits a data sheet.")
    {
        Arguments.Add(_words);
        Options.Add(_from);
        Options.Add(_plot);
        _forms.AddTo(this);
        SetAction((line, cancel) => Task.Run(() => _forms.Write(line, () => Run(line, cancel), cancel), cancel));
    }

    /// <inheritdoc/>
    public string Example => "parts 3V6 --plot 3V6.png";

    private Answer Run(ParseResult line, CancellationToken cancel)
    {
        _plot.Check(line);
        string? file = line.GetValue(_from);
        var catalogue = file is null ? PartCatalogue.Standard : Types(file);
        string[] words = line.GetValue(_words) ?? [];
        if (words.Length == 0 && file is not null)
            return Own(file, catalogue);
        if (words is [var name])
        {
            if (catalogue.Diodes.FirstOrDefault(d => Same(d.Name, name)) is { } sheet)
                return Diode(PartCatalogue.Type(sheet), line, cancel);
            if (catalogue.FindOpAmp(name) is { } type)
            {
                RefusePlot(line, $"op amp class {type.Name} has no curve to draw");
                return Found(PartsPage.Of(type));
            }
            if (catalogue.Find<PartType>(name) is { } other)
            {
                RefusePlot(line, $"{other.Kind} {other.Name} has no curve to draw");
                return Found(PartsPage.Of(other));
            }
            if (PinType.Find(name) is { } pin)
            {
                RefusePlot(line, $"pin type {pin.Name} has no curve to draw");
                return Found(PartsPage.Of(pin));
            }
        }
        DiodeDataSheet[] diodes = [.. catalogue.Diodes.Where(d => words.All(w => Holds(w, d.Name, DiodeFit.Word(d.Kind), d.Source)))];
        OpAmpType[] opAmps = [.. catalogue.OpAmps.Where(o => words.All(w => Holds(w, o.Name, "opamp", o.Source)))];
        PartType[] types = [.. catalogue.Types.Where(t => words.All(w => Holds(w, t.Name, t.Kind, t.Source)))];
        PinType[] pins = [.. PinType.All.Where(p => words.All(w => Holds(w, p.Name, "pin", p.Summary, p.Source)))];
        if (diodes.Length + types.Length + opAmps.Length + pins.Length == 0)
        {
            string? near = NearestZener(words[0], catalogue)
                ?? Nearest.Of(words[0], [.. catalogue.Diodes.Select(d => d.Name), .. catalogue.Types.Select(t => t.Name),
                .. catalogue.OpAmpNames, .. PinType.All.Select(p => p.Name)]);
            throw new InputException($"no part type matches '{string.Join(' ', words)}'; "
                + (near is null ? "frontendsim parts lists all" : $"did you mean {near}?"));
        }
        if (diodes.Length + opAmps.Length + pins.Length == 0 && types is [var only])
        {
            RefusePlot(line, $"{only.Kind} {only.Name} has no curve to draw");
            return Found(PartsPage.Of(only));
        }
        RefusePlot(line, "a curve is drawn of one part; name its type, such as 3V6");
        return Found(PartsPage.List(diodes, types, opAmps, pins));
    }

    /// <summary>The types that may be named in a file, which may hold nothing but types.</summary>
    /// <exception cref="DiagnosticsException">The file has errors.</exception>
    private static PartCatalogue Types(string file)
    {
        var loaded = CircuitFile.Load(file);
        return loaded.Diagnostics.All(d => !d.IsError) || loaded.IsMeantForInclusion ? loaded.Catalogue
            : throw new DiagnosticsException(loaded.Diagnostics);
    }

    /// <summary>The types that a circuit file describes itself.</summary>
    private static Answer Own(string file, PartCatalogue catalogue)
    {
        DiodeDataSheet[] diodes = [.. catalogue.Diodes.Except(PartCatalogue.Standard.Diodes)];
        OpAmpType[] opAmps = [.. catalogue.OpAmps.Except(PartCatalogue.Standard.OpAmps)];
        PartType[] types = [.. catalogue.Types.Except(PartCatalogue.Standard.Types)];
        if (diodes.Length + types.Length + opAmps.Length == 0)
            throw new InputException($"{file} describes no part type of its own (part NAME is KIND)");
        return Found(PartsPage.List(diodes, types, opAmps, []));
    }

    /// <summary>Of a voltage code that is not made, the half-watt zener nearest in voltage.</summary>
    private static string? NearestZener(string word, PartCatalogue catalogue)
    {
        if (!word.Contains('V', StringComparison.OrdinalIgnoreCase)
            || !double.TryParse(word.ToUpperInvariant()
                .Replace('V', '.'), System.Globalization.CultureInfo.InvariantCulture, out double volts))
            return null;
        return catalogue.Diodes.Where(d => d.Kind == DiodeKind.Zener && d.Name.Contains('V', StringComparison.Ordinal))
            .MinBy(d => Math.Abs(d.Points[0].Value - volts))?.Name;
    }

    private Answer Diode(DiodeType type, ParseResult line, CancellationToken cancel)
    {
        var found = PartsPage.Of(type, _plot.IsWanted(line) ? PartCurve.Of(type, cancel) : []);
        _plot.Write(line, found.Page, cancel);
        return Found(found);
    }

    private static Answer Found((Page Page, TypeSheets Record) found) => Answer.Of(ExitCode.Met, found.Page, found.Record);

    private void RefusePlot(ParseResult line, string why)
    {
        if (line.GetValue(_plot) is not null)
            throw new InputException("--plot: " + why);
    }

    private static bool Holds(string word, params ReadOnlySpan<string> texts)
    {
        foreach (string text in texts)
        {
            if (text.Contains(word, StringComparison.OrdinalIgnoreCase))
                return true;
        }
        return false;
    }

    private static bool Same(string a, string b) => a.Equals(b, StringComparison.OrdinalIgnoreCase);
}
