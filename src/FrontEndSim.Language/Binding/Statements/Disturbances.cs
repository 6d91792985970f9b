using System.Globalization;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.Language.Binding.Scopes;
using static FrontEndSim.Language.Text.ValueText;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>The disturbances that an event may be: a new one is a new entry here.</summary>
internal static class Disturbances
{
    private static readonly Addition Start = new("at", Blank.Of("start", Unit.Seconds));
    private static readonly Addition EitherWay = new("either", "way");
    private static readonly Addition Duration = new("for", Blank.Of("duration", Unit.Seconds), new Maybe(new Addition("only")));
    private static readonly Addition Through = new("through", Blank.Of("contact", Unit.Ohm));
    private static readonly Blank Peak = Blank.Of("peak", Unit.Volts);
    private static readonly Addition Level =
        new("level", new Blank("test-level", Shape.Value, "a test level of the standard, such as 3", Unit.None));
    private static readonly OneOf LevelOrPeak = new(Level, new Phrase("peak", Peak)),
        LevelOrVolts = new(Level, Blank.Of("volts", Unit.Volts));
    private static readonly Blank SourceOhms = Blank.Of("ohms", Unit.Ohm);
    private static readonly Blank Supply = Blank.Of("supply", Unit.Volts);
    private static readonly Blank Frequency = Blank.Of("frequency", Unit.Hertz);

    private static readonly Addition Leads = new("leads", Blank.Of("inductance", Unit.Henry));
    private static readonly Addition Stray = new("stray", Blank.Of("capacitance", Unit.Farad));
    private static readonly Addition Pads = new("pads", Blank.Of("to-ground", Unit.Farad));
    private static readonly Addition Network = new("network", Blank.Of("store", Unit.Farad), Blank.Of("resistor", Unit.Ohm));

    public static ImmutableArray<DisturbanceWords> All { get; } =
    [
        new DisturbanceWords<StepTo>(
            new("step", "to", Blank.Of("volts", Unit.Volts), "source", SourceOhms, new AnyOrder(Start, Duration, EitherWay)),
            (s, scope) => Given(scope.Number(s["volts"]), scope.Positive(s["ohms"])) is [var volts, var ohms]
                && Times(s, scope, 1e-3) is var (start, duration)
                ? new StepTo(volts, ohms, start, duration) { IsBrief = s.Has("only") } : null,
            d => $"step to {Volts(d.Volts)} source {Ohms(d.SourceOhms)}{Times(d)}"),
        new DisturbanceWords<Surge>(
            new("surge", new Blank("wave", Shape.Value, "a wave, such as 1.2/50"), "peak", Peak, "source", SourceOhms,
                new AnyOrder(Start, EitherWay)),
            Surge, d => $"surge {d.Shape.Name} peak {Volts(d.PeakVolts)} source {Ohms(d.SourceOhms)}{At(d.StartSeconds)}"),
        new DisturbanceWords<CombinationWave>(
            new("combination-wave", LevelOrPeak,
                new AnyOrder(new Addition("source", SourceOhms, new Maybe("through", Blank.Of("farads", Unit.Farad))),
                    new Addition("coupled", new Blank("coupling", Shape.Name, "a coupling network, such as line-to-ground")),
                        Start, EitherWay)),
            CombinationWave,
            d => $"combination-wave peak {Volts(d.PeakVolts)}{Coupled(d.Coupling)}{At(d.StartSeconds)}"),
        new DisturbanceWords<Discharge>(
            new("discharge", LevelOrVolts, new AnyOrder(new Addition("air"), Network, Leads, Stray, Pads, Start, EitherWay)), Discharge,
            d => $"discharge {Volts(d.Volts)}{(d.IsAir ? " air" : "")} network {Farads(d.Gun.Farads)} "
                + $"{Ohms(d.Gun.Ohms)}{Strays(d.Strays)}{At(d.StartSeconds)}"),
        new DisturbanceWords<HumanBodyDischarge>(
            new("human-body", Blank.Of("volts", Unit.Volts), new AnyOrder(Leads, Stray, Pads, Start, EitherWay)),
            (s, scope) => scope.Number(s["volts"]) is { } volts && Strays(s, scope) is { } strays && Times(s, scope, 1e-6) is var (start, _)
                ? new HumanBodyDischarge(volts, start, strays) : null,
            d => $"human-body {Volts(d.Volts)}{Strays(d.Strays)}{At(d.StartSeconds)}"),
        new DisturbanceWords<Burst>(
            new("burst", LevelOrPeak, "repeating", Frequency, new AnyOrder(
                new Addition("times", new Blank("count", Shape.Value, "how many bursts", Unit.None)),
                new Addition("through", Blank.Of("farads", Unit.Farad)), Leads, Stray, Pads, Start, EitherWay)),
            Burst,
            d => string.Create(CultureInfo.InvariantCulture, $"burst peak {Volts(d.Volts)} repeating {Hertz(d.Hertz)} times {d.Bursts}")
                + (d.CouplingFarads is { } farads ? " through " + Farads(farads) : "") + Strays(d.Strays) + At(d.StartSeconds)),
        new DisturbanceWords<VehiclePulse>(
            new("vehicle-pulse", new Blank("pulse", Shape.TypeName, "a pulse, such as 2a"), "system",
                Blank.Of("system", Unit.Volts), LevelOrPeak,
                "supply", Supply, new AnyOrder(Start)),
            VehiclePulse,
            d => $"vehicle-pulse {d.Shape.Name} system {Volts(d.Shape.SystemVolts)} peak {Volts(d.Volts)} supply "
                + $"{Volts(d.SupplyVolts)}{At(d.StartSeconds)}"),
        new DisturbanceWords<LoadDump>(
            new("load-dump", "peak", Peak, "supply", Supply, "source", SourceOhms, "for", Blank.Of("length", Unit.Seconds),
                new AnyOrder(new Addition("suppressed", "to", Blank.Of("limit", Unit.Volts)), Start)),
            LoadDump,
            d => $"load-dump peak {Volts(d.PeakVolts)} supply {Volts(d.SupplyVolts)} source {Ohms(d.SourceOhms)} for {Seconds(d.Seconds)}"
                + (d.SuppressedVolts is { } volts ? " suppressed to " + Volts(volts) : "") + At(d.StartSeconds)),
        new DisturbanceWords<VehicleSupply>(
            new("supply-test", new Blank("test", Shape.Name, "a test, such as starting"), "system", Blank.Of("system", Unit.Volts),
                new AnyOrder(Level, new Addition("frequency", Blank.Of("hertz", Unit.Hertz)), Start)),
            VehicleSupply,
            d => string.Create(CultureInfo.InvariantCulture, $"supply-test {d.Test} system {Volts(d.SystemVolts)} level {d.Level}")
                + (d.Hertz is { } hertz ? " frequency " + Hertz(hertz) : "") + At(d.StartSeconds)),
        new DisturbanceWords<RecordedWave>(
            new("waveform", new Blank("file", Shape.Text, "a file of times and volts in double quotes"),
                "source", SourceOhms, new AnyOrder(Start, EitherWay)),
            (s, scope) => scope.Positive(s["ohms"]) is { } ohms && Times(s, scope, 1e-3) is var (start, _)
                && PairsFile.Wave.Read(s.Token("file"), scope.Diagnostics) is { } points
                ? new RecordedWave(s.Token("file").Text, points, ohms, start) : null,
            d => $"waveform \"{d.Title}\" source {Ohms(d.SourceOhms)}{At(d.StartSeconds)}"),
        new DisturbanceWords<Mains>(
            new("mains", Blank.Of("volts", Unit.Volts), "frequency", Frequency, new AnyOrder(
                new Addition("phase", new Blank("degrees", Shape.Value, "degrees, such as 90", Unit.None)),
                    new Addition("source", SourceOhms), Start)),
            Mains,
            d => string.Create(CultureInfo.InvariantCulture,
                $"mains {Volts(d.RmsVolts)} frequency {Hertz(d.Hertz)} phase {d.Degrees:0.######}")
                + $" source {Ohms(d.SourceOhms)}{At(d.StartSeconds)}"),
        new DisturbanceWords<MainsPickUp>(
            new("mains-pickup", Blank.Of("volts", Unit.Volts), "frequency", Frequency, "through",
                Blank.Of("farads", Unit.Farad), new AnyOrder(Start)),
            (s, scope) => Given(scope.Positive(s["volts"]), scope.Positive(s["frequency"]), scope.Positive(s["farads"]))
                is [var volts, var hertz, var farads]
                && Times(s, scope, 1e-3) is var (start, _) ? new MainsPickUp(volts, hertz, farads, start) : null,
            d => $"mains-pickup {Volts(d.RmsVolts)} frequency {Hertz(d.Hertz)} through {Farads(d.Farads)}{At(d.StartSeconds)}"),
        new DisturbanceWords<RadioPickUp>(
            new("radio-pickup", LevelOrVolts, "frequency", Frequency, new AnyOrder(Start)),
            (s, scope) => Given(Strength(s, scope, "volts", RadioPickUp.Levels), scope.Positive(s["frequency"])) is [var volts, var hertz]
                && Times(s, scope, 1e-6) is var (start, _) ? new RadioPickUp(volts, hertz, start) : null,
            d => $"radio-pickup {Volts(d.RmsVolts)} frequency {Hertz(d.Hertz)}{At(d.StartSeconds)}"),
        new DisturbanceWords<ShortTo>(
            new("short", "to", Blank.Node("other"), new AnyOrder(Through, Start, Duration)),
            (s, scope) => (s.Has("through") ? scope.Positive(s["contact"]) : 0.1) is { } ohms
                && Times(s, scope, 1e-3) is var (start, duration)
                ? new ShortTo(scope.Node(s.Token("other")), ohms, start, duration) { IsBrief = s.Has("only") } : null,
            d => $"short to {d.Other} through {Ohms(d.Ohms)}{Times(d)}"),
        new DisturbanceWords<OpenSource>(new("open", new AnyOrder(Start, Duration)),
            (s, scope) => Times(s, scope, 1e-3) is var (start, duration)
                ? new OpenSource(start, duration) { IsBrief = s.Has("only") } : null, d => "open" + Times(d)),
        new DisturbanceWords<ReversedSource>(new("reversed", new AnyOrder(Start, Duration)),
            (s, scope) => Times(s, scope, 1e-3) is var (start, duration)
                ? new ReversedSource(start, duration) { IsBrief = s.Has("only") } : null, d => "reversed" + Times(d)),
        new DisturbanceWords<LostSource>(new("lost",
            new AnyOrder(new Addition("falling", "in", Blank.Of("fall", Unit.Seconds)), Start, Duration)),
            (s, scope) => (s.Has("falling") ? scope.NotNegative(s["fall"]) : 1e-3) is { } fall
                && Times(s, scope, 1e-3) is var (start, duration)
                ? new LostSource(start, duration) { IsBrief = s.Has("only"), FallSeconds = fall } : null,
            d => $"lost falling in {Seconds(d.FallSeconds)}{Times(d)}"),
        new DisturbanceWords<LateSource>(
            new("late", "by", Blank.Of("delay", Unit.Seconds), new AnyOrder(new Addition("rising", "in", Blank.Of("rise", Unit.Seconds)))),
            (s, scope) => Given(scope.Positive(s["delay"]), s.Has("rising") ? scope.NotNegative(s["rise"]) : 1e-3) is [var delay, var rise]
                ? new LateSource(delay, rise) : null,
            d => $"late by {Seconds(d.StartSeconds)} rising in {Seconds(d.RiseSeconds)}"),
    ];

    /// <summary>The words that are read as a disturbance.</summary>
    public static string Write(Disturbance disturbance) => All.Select(w => w.Write(disturbance)).First(text => text is not null)!;

    private static string At(double startSeconds) => " at " + Seconds(startSeconds);

    private static string Times(Fault fault) =>
        At(fault.StartSeconds) + (fault.DurationSeconds is { } d ? " for " + Seconds(d) + (fault.IsBrief ? " only" : "") : "");

    private static string Strays(Strays strays) =>
        $" leads {ValueText.Of(strays.LeadHenries, "H")} stray {Farads(strays.AcrossFarads)} pads {Farads(strays.GroundFarads)}";

    /// <summary>The strays of a fast disturbance; null after a complaint.</summary>
    private static Strays? Strays(StatementSyntax statement, Scope scope)
    {
        var usual = FrontEnds.Disturbances.Strays.Usual;
        double? leads = statement.Has("leads") ? scope.NotNegative(statement["inductance"]) : usual.LeadHenries;
        double? stray = statement.Has("stray") ? scope.NotNegative(statement["capacitance"]) : usual.AcrossFarads;
        double? pads = statement.Has("pads") ? scope.NotNegative(statement["to-ground"]) : usual.GroundFarads;
        return leads is { } henries && stray is { } farads && pads is { } ground ? new Strays(henries, farads, ground) : null;
    }

    /// <summary>The values, or nothing if one of them is missing after a complaint.</summary>
    private static double[] Given(params ReadOnlySpan<double?> values)
    {
        var found = new double[values.Length];
        for (int i = 0; i < values.Length; i++)
        {
            if (values[i] is not { } value)
                return [];
            found[i] = value;
        }
        return found;
    }

    /// <summary>The voltage that is given, or that of the test level that is given; null after a complaint.</summary>
    private static double? Strength(StatementSyntax statement, Scope scope, string volts, ImmutableArray<double> levels)
    {
        if (!statement.Has("level"))
            return scope.Number(statement[volts]);
        string known = string.Join(", ", levels.Select((v, k) => $"{k + 1} ({SiText.Format(v, "V")})"));
        return scope.Within(statement["test-level"], n =>
            n >= 1 && n <= levels.Length && n == Math.Floor(n), $"one of the test levels {known}") is { } level
            ? levels[(int)level - 1] : null;
    }

    /// <summary>When it begins, and for how long it lasts (null for ever); null after a complaint.</summary>
    private static (double Start, double? Duration)? Times(StatementSyntax statement, Scope scope, double usualStart)
    {
        double? start = statement.Has("start") ? scope.Positive(statement["start"]) : usualStart;
        double? duration = scope.Positive(statement["duration"]);
        return start is { } s && (duration is not null || !statement.Has("duration")) ? (s, duration) : null;
    }

    private static double? Whole(Filled blank, Scope scope) =>
        scope.Within(blank, n => n is >= 1 and <= 1000 && n == Math.Floor(n), "a whole number from 1 on");

    private static Surge? Surge(StatementSyntax statement, Scope scope)
    {
        // Written like a division, read as a name.
        var span = statement["wave"]!.Span;
        string wave = span.File.Line(span.Line).Substring(span.Column - 1, span.Length).Replace(" ", "");
        if (SurgeShape.Find(wave) is not { } shape)
        {
            scope.Diagnostics.Error(span, DiagnosticCode.UnknownGenerator, $"There is no surge wave {wave}.", "one of "
                + string.Join(", ", SurgeShape.Known.Select(s => s.Name)));
            return null;
        }
        return Given(scope.Number(statement["peak"]), scope.Positive(statement["ohms"])) is [var peak, var ohms]
            && Times(statement, scope, 10e-6) is var (start, _)
            ? new Surge(shape, peak, ohms, start) : null;
    }

    private static string Coupled(SurgeCoupling? coupling) => coupling switch
    {
        null => "",
        { FiresAtVolts: not null } => " coupled " + coupling.Name,
        _ => $" source {Ohms(coupling.SourceOhms)}" + (coupling.Farads is { } farads ? " through " + Farads(farads) : ""),
    };

    private static CombinationWave? CombinationWave(StatementSyntax statement, Scope scope)
    {
        double? peak = Strength(statement, scope, "peak", FrontEnds.Disturbances.CombinationWave.Levels);
        if (!statement.Has("source"))
        {
            SurgeCoupling? coupling = null;
            if (statement.Has("coupled") && (coupling = SurgeCoupling.Find(statement.Token("coupling").Text)) is null)
            {
                var name = statement.Token("coupling");
                scope.Diagnostics.Error(name.Span, DiagnosticCode.UnknownGenerator, $"There is no coupling network {name.Text}.",
                    "one of " + string.Join(", ", SurgeCoupling.Known.Select(c => $"{c.Name} ({c.What})")),
                    Nearest.Question(name.Text, [.. SurgeCoupling.Known.Select(c => c.Name)]));
                return null;
            }
            return peak is { } volts && Times(statement, scope, 10e-6) is var (struck, _)
                ? FrontEnds.Disturbances.CombinationWave.Through(coupling, volts, struck) : null;
        }
        if (statement.Has("coupled"))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ImpossibleDisturbance,
                "A coupling network has a source resistance of its own.", null,
                "either the source or the coupling");
            return null;
        }
        double? farads = scope.Positive(statement["farads"]);
        return Given(peak, scope.Positive(statement["ohms"])) is [var given, var ohms]
            && (farads is not null || statement["farads"] is null)
            && Times(statement, scope, 10e-6) is var (start, _) ? new CombinationWave(given, ohms, start, farads) : null;
    }

    private static Discharge? Discharge(StatementSyntax statement, Scope scope)
    {
        bool isAir = statement.Has("air");
        double? volts = Strength(statement, scope, "volts", isAir ? FrontEnds.Disturbances.Discharge.AirLevels
            : FrontEnds.Disturbances.Discharge.Levels);
        DischargeGun? gun = DischargeGun.Standard61000;
        if (statement.Has("network"))
        {
            if (Given(scope.Positive(statement["store"]), scope.Positive(statement["resistor"])) is not [var farads, var ohms])
                return null;
            if ((gun = DischargeGun.Find(farads, ohms)) is null)
            {
                scope.Diagnostics.Error(statement.Span, DiagnosticCode.UnknownGenerator,
                    $"There is no discharge network of {Farads(farads)} and {Ohms(ohms)}.",
                    "one of " + string.Join(", ", DischargeGun.Known.Select(g => $"{Farads(g.Farads)} {Ohms(g.Ohms)} ({g.Standard})")));
                return null;
            }
        }
        return volts is { } given && Strays(statement, scope) is { } strays && Times(statement, scope, 1e-6) is var (start, _)
            ? new Discharge(given, start, gun, isAir, strays) : null;
    }

    private static Burst? Burst(StatementSyntax statement, Scope scope)
    {
        // The levels of supply ports are twice those of signal ports.
        bool isRail = statement["node"] is Filled<Token> { Value: var node } && scope.Builder.Rails.Any(r => r.Name == node.Text);
        double? peak = Strength(statement, scope, "peak", isRail ? FrontEnds.Disturbances.Burst.SupplyLevels
            : FrontEnds.Disturbances.Burst.Levels);
        double? farads = scope.Positive(statement["farads"]);
        return Given(peak, scope.Positive(statement["frequency"]), statement["count"] is { } count ? Whole(count, scope) : 1)
            is [var volts, var hertz, var times]
            && (farads is not null || statement["farads"] is null) && Strays(statement, scope) is { } strays
                && Times(statement, scope, 1e-6) is var (start, _)
            ? new Burst(volts, hertz, (int)times, start, farads, strays) : null;
    }

    private static VehicleSupply? VehicleSupply(StatementSyntax statement, Scope scope)
    {
        var test = statement.Token("test");
        if (!FrontEnds.Disturbances.VehicleSupply.Tests.Contains(test.Text))
        {
            scope.Diagnostics.Error(test.Span, DiagnosticCode.UnknownGenerator, $"There is no supply test {test.Text}.",
                "one of " + string.Join(", ", FrontEnds.Disturbances.VehicleSupply.Tests),
                    Nearest.Question(test.Text, FrontEnds.Disturbances.VehicleSupply.Tests));
            return null;
        }
        double? level = statement.Has("level") ? Whole(statement["test-level"]!, scope) : 1, hertz = scope.Positive(statement["hertz"]);
        return Given(scope.Positive(statement["system"]), level) is [var system, var number]
            && (hertz is not null || !statement.Has("frequency"))
            && Times(statement, scope, 1e-3) is var (start, _)
                ? FrontEnds.Disturbances.VehicleSupply.Of(test.Text, system, (int)number, hertz, start) : null;
    }

    private static Mains? Mains(StatementSyntax statement, Scope scope)
    {
        double? degrees = statement.Has("degrees") ? scope.Number(statement["degrees"])
            : 90, ohms = statement.Has("ohms") ? scope.Positive(statement["ohms"]) : 0.5;
        return Given(scope.Positive(statement["volts"]), scope.Positive(statement["frequency"]), degrees, ohms)
            is [var volts, var hertz, var phase, var source]
            && Times(statement, scope, 1e-3) is var (start, _) ? new Mains(volts, hertz, phase, source, start) : null;
    }

    private static VehiclePulse? VehiclePulse(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("pulse");
        if (scope.Number(statement["system"]) is not { } system)
            return null;
        if (VehiclePulseShape.Find(name.Text, system) is not { } shape)
        {
            scope.Diagnostics.Error(name.Span, DiagnosticCode.UnknownGenerator,
                $"There is no vehicle pulse {name.Text} for a system of {SiText.Format(system, "V")}.",
                "one of " + string.Join(", ", VehiclePulseShape.Known.Select(s =>
                    $"{s.Name} in a system of {SiText.Format(s.SystemVolts, "V")}")));
            return null;
        }
        return Given(Strength(statement, scope, "peak", shape.Levels), scope.NotNegative(statement["supply"])) is [var peak, var supply]
            && Times(statement, scope, 1e-3) is var (start, _) ? new VehiclePulse(shape, peak, supply, start) : null;
    }

    private static LoadDump? LoadDump(StatementSyntax statement, Scope scope)
    {
        double? limit = scope.Positive(statement["limit"]);
        if (Given(scope.Positive(statement["peak"]), scope.NotNegative(statement["supply"]),
            scope.Positive(statement["ohms"]), scope.Positive(statement["length"]))
            is not [var peak, var supply, var ohms, var length] || (limit is null && statement.Has("suppressed"))
                || Times(statement, scope, 10e-3) is not var (start, _))
        {
            return null;
        }
        return new LoadDump(peak, supply, ohms, length, limit, start);
    }
}
