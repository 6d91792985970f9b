using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>scan turns reads hot, cold, level every 50 us discards 1</c></summary>
internal sealed class ScanStatement : StatementKind
{
    // More would be a mistake: each costs a sample.
    private const double MostDiscarded = 100;

    public override string Keyword => "scan";

    public override string Summary => "The order in which firmware reads pins that share one converter and its sampling capacitor.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("scan"), "reads", new Listed("pins", new Phrase(new Blank("pin", Shape.Name, "a pin")))];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("every", Blank.Of("seconds", Unit.Seconds)),
        new("waits", Blank.Of("waited", Unit.Seconds)),
        new("discards", new Blank("count", Shape.Value, "a number of readings, such as 1", Unit.None)),
    ];

    public override Turn Turn => Turn.Last;

    public override void Declare(StatementSyntax statement, Scope scope) => scope.Declare(statement.Token("name"), "scan");

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (!scope.Builder.HasRoom(scope.Builder.Scans.Count, "scans", statement.Span))
            return;
        Token[] tokens = [.. statement.Get<ImmutableArray<PhraseSyntax>>("pins").Select(item => item.Get<Token>("pin"))];
        double? every = scope.Positive(statement["seconds"]), waited = scope.Positive(statement["waited"]);
        double? discarded = statement.Has("discards") ? scope.Within(statement["count"],
            n => n is >= 0 and <= MostDiscarded && n == Math.Floor(n), "a whole number from 0 to 100") : 0;
        var pins = ImmutableArray.CreateBuilder<Pin>();
        foreach (var token in tokens)
        {
            if (scope.Builder.Use(token, "pin") && scope.Builder.Pins.FirstOrDefault(p => p.Name == token.Text) is { } pin
                && Fits(scope, token, pin, pins, every, waited))
                pins.Add(pin);
        }
        if (pins.Count == tokens.Length && discarded is { } count)
        {
            scope.Builder.Scans.Add(new Scan(name.Text, [.. pins.Select(p => p.Name)])
            {
                EverySeconds = every,
                WaitSeconds = waited,
                Discarded = (int)count,
            });
        }
    }

    private static bool Fits(Scope scope, Token token, Pin pin, IReadOnlyList<Pin> before, double? every,
        double? waited)
    {
        string? problem = pin is not { Sampling: { } sampling, Converter: not null }
                ? $"Pin {pin.Name} has no converter with a sampling capacitor."
            : before.Contains(pin) ? $"Pin {pin.Name} stands twice in the scan."
            : scope.Builder.Scans.FirstOrDefault(s => s.Pins.Contains(pin.Name)) is { } other
                ? $"Pin {pin.Name} is read in scan {other.Name}."
            : before.FirstOrDefault(p => p.Sampling!.Farads != sampling.Farads) is { } unlike
                ? $"Pin {pin.Name} samples with {SiText.Format(sampling.Farads, "F")}, but {unlike.Name} with "
                    + $"{SiText.Format(unlike.Sampling!.Farads, "F")}: one converter has one sampling capacitor."
            : every <= sampling.Seconds
                ? $"A reading every {SiText.Format(every.Value, "s")} leaves no time between samples of "
                    + $"{SiText.Format(sampling.Seconds, "s")}, which pin {pin.Name} takes."
            : every is { } turn && turn - sampling.Seconds < waited
                ? $"A reading every {SiText.Format(turn, "s")} leaves no {SiText.Format(waited!.Value, "s")} between samples of "
                    + $"{SiText.Format(sampling.Seconds, "s")}, which pin {pin.Name} takes."
            : waited is not null && pin.Channel is null
                ? $"Pin {pin.Name} is behind no external multiplexer, so nothing is waited for."
            : null;
        if (problem is null)
            return true;
        scope.Diagnostics.Error(token.Span, DiagnosticCode.ImpossibleScan, problem,
            "pins that sample with the same capacitor, each once: samples FARADS through OHMS for SECONDS");
        return false;
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Scans.Select(s => new StatementText(string.Join(' ',
    [
        $"scan {s.Name} reads {string.Join(", ", s.Pins)}",
        .. StatementText.If(s.EverySeconds, seconds => "every " + ValueText.Seconds(seconds)),
        .. StatementText.If(s.WaitSeconds, seconds => "waits " + ValueText.Seconds(seconds)),
        .. StatementText.If(s.Discarded > 0, () => $"discards {s.Discarded}"),
    ])));
}
