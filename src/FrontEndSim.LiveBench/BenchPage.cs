using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Language.Binding;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Html;
using FrontEndSim.Reporting.Pages;
using FrontEndSim.Reporting.Schematic;
using FrontEndSim.Reporting.Words;
using static FrontEndSim.LiveBench.Html;

namespace FrontEndSim.LiveBench;

/// <summary>The pieces of the page: the report's own blocks, and round them what a person turns and presses.</summary>
internal static class BenchPage
{
    // A part that takes three quarters of a rating is worth a look (common practice, no source).
    private const double WarmShare = 0.75;

    // Less of a rating is nothing to look at.
    private const double LeastShare = 0.01;

    private static readonly (string Id, string Column)[] Places =
    [
        ("drawing", "wide"), ("state", "wide"), ("knobs", "left"), ("meters", "left"), ("part", "left"), ("verdict", "left"),
        ("faults", "right"), ("trace", "right"), ("log", "right"), ("file", "right"), ("mapping", "wide"),
            ("hand", "wide"), ("budget", "wide"),
        ("readings", "wide"), ("compared", "wide"),
    ];

    /// <summary>The page before anything is on it.</summary>
    public static string Document(string title) => HtmlText.Document(E("html", "lang=en",
        E("head", "",
            E("meta", "charset=utf-8"), E("meta", "name=viewport|content=width=device-width, initial-scale=1"),
                E("meta", "name=color-scheme|content=light dark"),
            E("link", "rel=icon|href=data:,"), E("link", "rel=stylesheet|href=bench.css"), E("title", "", title + " – bench"),
            E("script", "src=bench.js|type=module", "")),
        E("body", "class=bench",
            E("header", "", E("h1", "", title), E("p", "class=from|id=alive|role=status", "connecting …")),
            E("nav", "aria-label=Contents", E("ul", "", new[] { ("drawing", "Circuit"), ("knobs", "Knobs"),
                ("verdict", "Requirements"), ("faults", "Faults"), ("file", "File"), ("mapping", "Mapping"), ("readings", "Compare") }
                .Select(p => E("li", "", E("a", "href=#" + p.Item1, p.Item2))))),
            E("main", "", Places.GroupBy(p => p.Column).SelectMany(g => g.Key == "wide"
                ? [] : new[] { E("div", "class=column " + g.Key, g.Select(Place)) }) is var columns
                ? [.. Places.Where(p => p.Column == "wide").Take(2)
                    .Select(Place), E("div", "class=columns", columns), .. Places.Where(p => p.Column == "wide").Skip(2).Select(Place)]
                : Array.Empty<XElement>()))));

    private static XElement Place((string Id, string Column) place) => E("section", "id=" + place.Id);

    /// <summary>The circuit, whole; its parts are buttons.</summary>
    public static Piece Drawing(FrontEnd frontEnd)
    {
        if (SchematicSvg.DrawToLabel(frontEnd) is not { } svg)
            return new("drawing", Section("drawing", "Circuit",
                E("p", "", "No drawing was found that shows this circuit; the text says how it is wired.")));
        svg.SetAttributeValue("role", "group");
        foreach (var part in SchematicBlocks.Readable(svg).Descendants("g").Where(g => g.Attribute("data-part") is not null))
        {
            part.Add(A("data-do", "part"), A("data-name", part.Attribute("data-part")!.Value), A("tabindex", "0"), A("role", "button"),
                A("aria-label", part.Element("title")!.Value));
        }
        return new("drawing", Section("drawing", "Circuit", E("div", "class=scroll|role=region|aria-label=The circuit|tabindex=0", svg),
            E("p", "class=hint|id=carries|data-own", "Point at a part, or go to it with Tab: what it carries is said here."),
            E("div", "class=from|id=instant|data-own", "Click a part to change it. Voltages are those of the operating point.")));
    }

    /// <summary>Knobs of sensors, rails and temperature.</summary>
    public static Piece Knobs(FrontEnd frontEnd, BenchState state) => new("knobs", Section("knobs", "Knobs",
        frontEnd.Sensors.Select(s =>
        {
            double at = state.Sensors.GetValueOrDefault(s.Name, s.Span.Middle), width = s.Span.High - s.Span.Low;
            return Knob("sensor", s.Name, $"Sensor {s.Name}", s.UnitText, at, s.Span.Low - width / 10, s.Span.High
                + width / 10, $"{Figures.Range(s.Span, s.UnitText)} is its span");
        }),
        frontEnd.Rails.Select(r =>
        {
            double nominal = r.Volts.Value, at = state.Rails.GetValueOrDefault(r.Name, nominal), most = 1.25 * nominal;
            return E("div", "class=rail",
                Knob("rail", r.Name, $"Rail {r.Name}", "V", at, Math.Min(0, most), Math.Max(0, most), ""),
                E("div", "class=choices|role=group", A("aria-label", $"Rail {r.Name}"), Choice("off", 0), r.Volts.Tolerance > 0
                    ? Choice("low", Low(r.Volts)) : null, Choice("nominal", nominal),
                    r.Volts.Tolerance > 0 ? Choice("high", High(r.Volts)) : null));

            XElement Choice(string word, double volts) =>
                Button(word, "rail", r.Name, at == volts, value: word == "nominal" ? word
                : volts.ToString("R", CultureInfo.InvariantCulture));
        }),
        Knob("celsius", "", "Temperature", "°C", state.Celsius ?? frontEnd.Celsius, -40, 125, state.Celsius is null
            ? "as the file has it" : "")));

    private static double Low(Toleranced volts) => volts.Value * (1 - volts.Tolerance);

    private static double High(Toleranced volts) => volts.Value * (1 + volts.Tolerance);

    private static XElement Knob(string what, string name, string label, string unit, double at, double low, double high, string hint)
    {
        string id = $"{what}-{name}";
        double step = Math.Pow(10, Math.Floor(Math.Log10((high - low) / 200)));
        return E("div", "class=knob",
            E("label", "", A("for", id), label),
            E("input", "type=range", A("id", id), A("min", N(low)), A("max", N(high)), A("step", N(step)),
                A("value", at.ToString("R", CultureInfo.InvariantCulture)), A("data-do", what), A("data-name", name),
                A("aria-valuetext", $"{Figures.Of(at, unit)}")),
            E("span", "class=entry", E("input", "type=number|step=any", A("aria-label", $"{label}, {unit}"),
                A("value", N(at)), A("data-do", what), A("data-name", name)), " ", unit),
            hint == "" ? null : E("span", "class=hint", hint));
    }

    /// <summary>The two meters of each mapped pin: the sensor's quantity, and the pin in volts, code, back-calculated and with its
    /// error; then a meter for each sensor and each pin that no mapping joins, a logic pin with the level that it reads.</summary>
    public static Piece Meters(FrontEnd onBench, RestOnBench rest, BenchState state) => new("meters", Section("meters", "Meters",
        rest.Problem != "" ? E("p", "class=headline unsure", rest.Problem) : null,
        rest.Readings.Select(m =>
        {
            var point = m.Points[0];
            // The middle of the code that the firmware sees, from the lower end of the converter's span.
            double counted = point.Code < 0 ? point.PinVolts
                : onBench.FindPin(m.Pin).Converter!.Span.Low.Resolve(n => rest.Point!.Nodes[n]) + (point.Code + 0.5) * m.CountVolts;
            double back = m.Wanted.Input.Low + (counted - m.Wanted.Output.Low) / m.Wanted.Output.Width * m.Wanted.Input.Width;
            return E("div", "class=pair",
                Meter($"sensor {m.Sensor}", Figures.Of(point.SensorValue, m.SensorUnit), "sensor-meter", []),
                Meter($"pin {m.Pin}", Figures.Volts(point.PinVolts), "pin-meter",
                [
                    .. point.Code < 0 ? [] : new[] { ("code", Figures.Whole(point.Code)) },
                    ("back-calculated", m.SensorUnit != "V" && point.ReadingError is { } off
                        ? Back(onBench.FindSensor(m.Sensor).Span, point.SensorValue + off, m.SensorUnit)
                        : Back(m.Wanted.Input, back, "V")),
                        ("wanted", Figures.Volts(point.IdealVolts)), ("error", Figures.Error(point.ErrorCounts, MappingWords.Unit(m))),
                ]));
        }),
        rest.Point is { } at ? Unmapped(onBench, rest, state, at) : null,
        state.Turned() is { Length: > 0 } turned ? E("p", "class=hint", $"With {turned}.") : null));

    // What firmware would make of a pin that hardly moves, or stands at a rail, is no reading: further beyond the span than it is wide.
    private static string Back(Span span, double value, string unit) =>
        value > span.High + span.Width ? $"above {Figures.Of(span.High, unit)}, beyond the span"
            : value < span.Low - span.Width ? $"below {Figures.Of(span.Low, unit)}, beyond the span" : Figures.Of(value, unit);

    private static XElement? Unmapped(FrontEnd onBench, RestOnBench rest, BenchState state, OperatingPoint at)
    {
        XElement[] meters =
        [
            .. onBench.Sensors.Where(s => rest.Readings.All(m => m.Sensor != s.Name)).Select(s => Meter($"sensor {s.Name}",
                Figures.Of(state.Sensors.GetValueOrDefault(s.Name, s.Span.Middle), s.UnitText), "sensor-meter", [])),
            .. onBench.Pins.Where(p => rest.Readings.All(m => m.Pin != p.Name)).Select(p => Meter($"pin {p.Name}",
                Figures.Volts(at.Nodes[p.Node]), "pin-meter", Level(p, at))),
        ];
        return meters.Length == 0 ? null : E("div", "class=pair", meters.AsEnumerable());
    }

    // What a logic pin reads, by the levels that its family guarantees at this supply.
    private static (string Term, string What)[] Level(Pin pin, OperatingPoint at)
    {
        if (pin.Logic is not { } logic)
            return [];
        double supply = at.Nodes[logic.Rail], volts = at.Nodes[pin.Node], low = logic.LowBelow(supply), high = logic.HighAbove(supply);
        return
        [
            ("reads", volts <= low ? "low" : volts >= high ? "high" : "low or high"),
            ("low up to", Figures.Volts(low)), ("high from", Figures.Volts(high)),
        ];
    }

    private static XElement Meter(string what, string reading, string look, (string Term, string What)[] more) =>
        E("div", "class=meter " + look,
        E("span", "class=what", what), E("output", "class=reading", reading), more.Length == 0 ? null
            : E("dl", "", more.Select(m => E("div", "", E("dt", "", m.Term), E("dd", "", m.What)))));

    private static IEnumerable<string> Nodes(FrontEnd file) =>
        file.AllParts.SelectMany(p => p.Nodes).Concat(file.Pins.Select(p => p.Node)).Distinct().Where(n => n != Circuit.Ground);

    /// <summary>The events of the file and the single faults, as buttons.</summary>
    public static Piece Faults(FrontEnd frontEnd, BenchState state) => new("faults", Section("faults", "Faults",
        E("p", "class=hint", "An event runs once through the circuit as it stands on the bench. A fault comes to pass, is drawn, and "
            + "stays until it is mended."),
        E("div", "class=choices|role=group|aria-label=Events of the file", frontEnd.Events.Select(e => Button(e.Name, "event", e.Name))),
        frontEnd.Events.IsEmpty ? E("p", "", "The file has no event.") : null,
        state.Fault is { } fault ? E("p", "class=headline unsure", $"{fault.Text}. ", Button("Mend it", "fault")) : null,
        E("details", "id=singles", E("summary", "", "Single faults of parts, rails and sensors"),
            E("div", "class=choices|role=group|aria-label=Single faults", SingleFault.Of(frontEnd)
                .Select(f => Button(f.Text, "fault", f.Text, state.Fault == f)))),
        E("details", "id=traced", E("summary", "", "Nodes to draw beside pin and terminal"),
            E("div", "class=choices|role=group|aria-label=Nodes to draw", Nodes(frontEnd)
                .Select(n => Button(n, "trace", n, state.Traced.Contains(n))))),
        frontEnd.Cautions is { Length: > 0 } cautions
            ? E("ul", "class=cautions", cautions.Select(c => E("li", "", "⚠ " + c))) : null));

    /// <summary>What the event did: the report's own blocks.</summary>
    public static Piece Trace(EventResult e, BenchState state) =>
        Of(new Section("trace", e.Event.Name,
        [
            new Paragraph($"At node {e.Event.Node}: {e.Event.Disturbance.Text}"
                + (e.Where is { IsSensorTornOff: true } ? ", the sensor torn off." : ".")
                + (state.Turned(e.Event.Name) is { Length: > 0 } turned ? $" With {turned}." : "")),
            .. Drawn(e, state).Select(n => new Pictures([EventPicture.Of(e, n)])), .. EventsPage.Blocks(e, withCauses: true),
        ]));

    // The nodes that were chosen; pins and terminal are drawn in any case.
    private static IEnumerable<string> Drawn(EventResult e, BenchState state) =>
        state.Traced.Where(n => n != e.Event.Node && e.Transient.Start.Nodes.ContainsKey(n) && e.Pins.All(p => p.Pin.Node != n));

    /// <summary>The instant of the trace that the drawing shows.</summary>
    public static Piece Scrub(EventResult e, BenchState state)
    {
        double end = e.Transient.Times[^1], at = (state.Scrub ?? 0) * end;
        return new("instant", HtmlText.Fragment(E("div", "id=instant|class=knob",
            E("label", "for=scrub", "Along the trace"),
            E("input", "type=range|id=scrub|min=0|max=1|step=0.001|data-do=scrub", A("value", N(state.Scrub ?? 0)),
                A("aria-valuetext", Figures.Time(at))),
            E("span", "class=hint", state.Scrub is null ? $"Turn it, and the drawing shows an instant of {e.Event.Name}."
                : $"The drawing shows {Figures.Time(at, 4)} of {e.Event.Name}."),
            Button("Operating point", "scrub", enabled: state.Scrub is not null))));
    }

    /// <summary>What was tried so far.</summary>
    public static Piece Log(IEnumerable<EventResult> tried) =>
        Of(new Section("log", "What was tried", [EventsPage.Summary([.. tried], details: true)]));

    /// <summary>Verdict, requirements and mapping.</summary>
    /// <param name="check">What was judged.</param>
    /// <param name="settlesTo">How many points a circuit that does not stay where its currents balance settles to; null where it
    /// stays.</param>
    /// <param name="frontEnd">The front end as it stands on the bench.</param>
    /// <param name="state">Where everything stands.</param>
    public static IEnumerable<Piece> Check(CheckResult check, int? settlesTo, FrontEnd frontEnd, BenchState state)
    {
        Block[] scope = state.Turned() is { Length: > 0 } turned ? [new Paragraph($"Judged with {turned}.")] : [];
        yield return Of(new Section("verdict", "Requirements",
            [.. scope, .. UnstableWords.Of(settlesTo, "Shown is where they balance."), .. CheckPage.Verdict(check)]));
        yield return Of(new Section("mapping", "Mapping",
            [.. check.Mappings.Select((m, k) => new Section($"{k}", $"Sensor {m.Sensor} onto pin {m.Pin}",
            [new Paragraph(MappingWords.Sentence(m)), new Pictures(MappingPicture.Panels(m, frontEnd.FindPin(m.Pin)))])),
            .. check.Logic.Select((l, k) => LogicBlocks.Section(l, $"levels{k}"))]));
    }

    /// <summary>The hand calculation beside the simulation.</summary>
    public static Piece Hand(ExplainResult explained) => Of(new Section("hand", "Hand calculation", [.. ExplainPage.Hand(explained)]));

    /// <summary>The error budgets of the mappings that are computed so far.</summary>
    public static Piece Budgets(IReadOnlyList<BudgetResult> budgets) =>
        Of(new Section("budget", "Error budget", [.. budgets.Select(BudgetPage.Section)]));

    /// <summary>Where the meter's readings of the real board are typed in, beside what is predicted.</summary>
    public static Piece Readings(FrontEnd file, RestOnBench rest, BenchState state)
    {
        string[] nodes = [.. Nodes(file)];
        double? set = file.Sensors is [var sensor, ..] ? state.Sensors.GetValueOrDefault(sensor.Name, sensor.Span.Middle) : null;
        return new("readings", Section("readings", "Compare with the bench",
            set is not { } volts ? E("p", "", "The circuit has no sensor.") : E("p", "class=hint",
                $"Set the real sensor {file.Sensors[0].Name} to {Figures.Of(volts, file.Sensors[0].UnitText)}, as the knob stands, and "
                    + $"type what the meter reads. Turn the knob for the next row of readings."),
            set is null ? null : E("div", "class=scroll|role=region|aria-label=Readings|tabindex=0",
                E("table", "", E("caption", "", "Readings at this place of the knob"),
                E("thead", "", E("tr", "", new[] { "node", "predicted", "read (V)" }.Select(h => E("th", "scope=col", h)))),
                E("tbody", "",
                    nodes.Select(n => E("tr", "", E("th", "scope=row", n), E("td", "class=number", rest.Volts.GetValueOrDefault(n, "")),
                    E("td", "", E("input", "type=number|step=any|data-on=change|data-do=reading",
                        A("data-name", n), A("aria-label", $"Reading at {n}, V"),
                        A("value", state.Readings.Find(r => r.Node == n && r.SensorValue == set) is { } r
                            ? r.Value.ToString("R", CultureInfo.InvariantCulture) : "")))))))),
            Button("Forget all readings", "forget", enabled: !state.Readings.IsEmpty)));
    }

    /// <summary>The readings against the prediction, and what explains the difference.</summary>
    public static Piece Compared(CompareResult? compared) =>
        compared is null ? new("compared", HtmlText.Fragment(E("section", "id=compared")))
        : Of(new Section("compared", "What the readings say", ComparePage.Of(compared).Blocks));

    /// <summary>A sign of work that goes on, beside the buttons and at the headings of the sections that are not of this circuit
    /// yet.</summary>
    public static Piece Working(params string[] sections) => new("working", HtmlText.Fragment(
        E("span", "id=working|role=status", A("data-of", string.Join(' ', sections)), sections.Length > 0 ? "computing …" : "")));

    /// <summary>Why something could not be computed.</summary>
    public static Piece Problem(string words) =>
        new("problem", HtmlText.Fragment(E("p", "id=problem" + (words == "" ? "" : "|class=headline unsure"), words == ""
        ? "" : "Not computed: " + words)));

    /// <summary>Undo, redo, save, and what there is to say.</summary>
    public static Piece State(string file, BenchState state, string problem) =>
        new("state", HtmlText.Fragment(E("section", "id=state|aria-label=The file",
        Button("Undo", "undo", enabled: !state.Undo.IsEmpty), Button("Redo", "redo", enabled: !state.Redo.IsEmpty),
            Button($"Save {file}", "save", enabled: state.IsChanged),
        E("span", "id=note|role=status", problem != "" ? problem : state.Note != "" ? state.Note
            : state.IsChanged ? "Changed, not saved." : "As on the disk."),
        E("span", "id=working|role=status|data-own"), E("p", "id=problem|data-own"),
        state.Conflict is null ? null : E("div", "class=headline unsure|role=alert", $"{file} was changed on the disk, and here as well. ",
            Button("Take the disk's", "take"), Button("Keep what is here", "keep")))));

    /// <summary>The part that is looked at.</summary>
    public static Piece Part(FrontEnd file, FrontEnd onBench, RestOnBench rest, BenchState state)
    {
        var part = file.AllParts.FirstOrDefault(p => p.Name == state.Part);
        if (part is null)
            return new("part", Section("part", "Part", E("p", "class=hint", "Choose a part in the drawing.")));
        var reading = rest.Point?.Parts.GetValueOrDefault(part.Name);
        var stresses = rest.Point is { } point && onBench.AllParts.FirstOrDefault(p => p.Name == part.Name) is { } now
            ? now.Ratings(onBench.Celsius).Select(r => RatingStress.At(r, point)).ToArray() : [];
        double? watts = rest.Point is { } solved ? part.ElementNames.Sum(e => solved.Parts.TryGetValue(e, out var r) ? r.Watts : 0) : null;
        return new("part", Section("part", $"Part {part.Name}",
            part.Value is { } value ? E("div", "class=knob",
                E("label", "for=part-value", "Value"),
                E("input", "type=text|id=part-value|autocomplete=off|spellcheck=false|data-on=change|data-do=value",
                    A("data-name", part.Name), A("value", SiText.Format(value.Amount.Value, value.Unit.Symbol))),
                Button("▲", "step", part.Name, value: "1"), Button("▼", "step", part.Name, value: "-1"),
                E("span", "class=hint", "Type a value, or step along the series with the arrow keys.")) : null,
            E("dl", "", Facts().Select(f => E("div", "", E("dt", "", f.Item1), E("dd", "", f.Item2)))),
            stresses.Length == 0 ? null : E("ul", "", stresses.Select(s => E("li", "",
                $"{s.Rating.Kind.Word}: {Figures.Of(s.Found, s.Rating.Kind.Unit, 3)}, {Figures.Percent(s.Share, 3)} of "
                    + $"{Figures.Of(s.Limit, s.Rating.Kind.Unit, 3)} ({s.Rating.Source})"))),
            E("div", "class=choices|role=group|aria-label=What if it fails", SingleFault.Of(file)
                .Where(f => f.Subject == part.Name).Select(f => Button(f.Text, "fault", f.Text, state.Fault == f)))));

        IEnumerable<(string, string)> Facts()
        {
            yield return ("kind", part.Word);
            yield return ("value", part.ValueText);
            yield return ("wired", SchematicSvg.Wiring(part));
            if (reading is { } r && part.Nodes.Length == 2)
                yield return ("across, through", $"{Figures.Volts(r.Volts)}, {Figures.Of(r.Amps, "A", 3)}");
            if (watts is { } w)
                yield return ("dissipates", Figures.Of(w, "W", 3));
        }
    }

    /// <summary>The file's text with what is wrong in it.</summary>
    public static Piece FileText(string file, string text, LoadResult loaded) => new("file", Section("file", $"The file {file}",
        E("textarea", "id=text|spellcheck=false|autocomplete=off|data-do=text|rows=24|wrap=off",
            A("aria-label", $"Text of {file}"), A("aria-describedby", "diagnostics"), text),
        E("div", "id=diagnostics|role=status", loaded.Diagnostics.Length == 0 ? E("p", "class=hint", "No error, no warning.")
            : E("ul", "", loaded.Diagnostics.Take(30).Select(d => E("li", d.IsError ? "class=error" : "class=warning",
                d.Line > 0 ? Button($"line {d.Line}, column {d.Column}", "go", value: $"{d.Line}:{d.Column}:{d.Length}") : null, " ",
                d.Message, d.Expected is { } expected ? $" Expected: {expected}." : "", d.Suggestion is { } suggestion
                    ? $" {Figures.Sentence(suggestion)}" : ""))))));

    /// <summary>The voltages at an instant of a trace, 0 to 1 of its length.</summary>
    public static ImmutableDictionary<string, string> At(EventResult e, double share)
    {
        double at = share * e.Transient.Times[^1];
        return e.Transient.Start.Nodes.Keys.ToImmutableDictionary(n => n, n => Figures.Volts(e.Transient.Voltage(n).At(at), 3));
    }

    /// <summary>How near each part comes to a rating in an event.</summary>
    public static ImmutableDictionary<string, Load> Loads(EventResult e, double share) =>
        e.Parts.ToImmutableDictionary(p => p.Part.Name, p => LoadOf(p.Stresses,
        p.Part.Nodes.Length == 2 ? e.Transient.Current(p.Part.Name).At(share * e.Transient.Times[^1]) : null));

    /// <summary>How near a part is to its tightest rating.</summary>
    /// <param name="stresses">What each rating of it takes.</param>
    /// <param name="amps">The current through it, A; null for a part of more than two ends.</param>
    public static Load LoadOf(IEnumerable<RatingStress> stresses, double? amps)
    {
        string flows = amps is { } a ? $"carries {Figures.Of(a, "A", 3)}" : "";
        return stresses.MaxBy(s => s.Share) is not { } worst ? new("", flows)
            : new(worst.Share > 1 ? "beyond" : worst.Share > WarmShare ? "warm"
                : "easy", string.Join("; ", ((string[])[flows, Share(worst)]).Where(w => w != "")), Math.Clamp(worst.Share, 0, 1))
            { Share = worst.Share < LeastShare ? "<1 %" : Figures.Percent(worst.Share, 2) };
    }

    private static string Share(RatingStress worst) =>
        $"{Figures.Percent(worst.Share, 3)} of its {worst.Rating.Kind.Word} rating, {Figures.Of(worst.Limit, worst.Rating.Kind.Unit, 3)}"
            + (worst.Share > 1 ? ": beyond" : "");

    private static Piece Of(Section section) => new(section.Id, HtmlBlocks.Fragments(new Page("", [section])).Single().Html);

    private static string Section(string id, string heading, params object?[] content) => HtmlText.Fragment(
        E("section", $"id={id}|aria-labelledby={id}-h", E("h2", $"id={id}-h", heading), content));
}
