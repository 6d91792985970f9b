using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>sensor bath of temperature -20 C .. 80 C from VDD to IN</c> or <c>sensor probe drives IN</c></summary>
internal sealed class SensorStatement : StatementKind
{
    public override string Keyword => "sensor";

    public override string Summary =>
        "What is measured, in its own unit, and how it becomes a voltage or a current that drives a node, or a resistance between two.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("sensor"), new Maybe("of", new Blank("quantity", Shape.Name, "what is measured, such as temperature"),
            new Blank("measured", Shape.MeasuredRange, "a value and its unit, such as -20 C")),
        new OneOf(new Phrase("drives", Blank.Node("node"), new Maybe("against", Blank.Node("other"))),
            new Phrase("from", Blank.Node("from-node"), "to", Blank.Node("to-node"))),
    ];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("span", new Blank("volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        .. SensorLaws.All.Select(l => l.Form),
        new("source", Blank.Of("ohms", Unit.Ohm), new Maybe(Blank.Percentage("source-tolerance"))),
        new("capacitance", Blank.Of("farads", Unit.Farad)),
        Withstands, Rated, MostExcitation,
        new("dissipation", new Blank("watts-per-kelvin", Shape.Value, "a power per kelvin, such as 7 mW/K", Unit.Watt / Unit.Celsius)),
        .. SensorLaws.Errors,
        SensorLaws.Alarms,
        SensorLaws.Driven,
        Alternates,
        Excited,
        Contacting, Pulsed,
        new("duty", new Blank("duty-cycle", Shape.Range, "a percentage, such as 40%", Unit.Percent)),
        new("hum", Blank.Of("hum-volts", Unit.Volts), "at", Blank.Of("hum-hertz", Unit.Hertz), new Maybe(Blank.Percentage("hum-tolerance")),
            new Maybe("through", Blank.Of("hum-farads", Unit.Farad))),
        new("return", Blank.Of("return-ohms", Unit.Ohm),
            new Maybe("carries", new Blank("return-amps", Shape.Range, UnitWords.Describe(Unit.Amps), Unit.Amps))),
        new("common-mode", new Blank("mode-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        new("ground-offset", Blank.Of("ground-volts", Unit.Volts)),
        new("edge", Blank.Of("edge-time", Unit.Seconds)),
        new("ripple", Blank.Of("peak-to-peak", Unit.Volts), "at", Blank.Of("hertz", Unit.Hertz)),
    ];

    private static Addition Alternates { get; } = new("alternates", "at", Blank.Of("alternation-hertz", Unit.Hertz),
        new Maybe(Blank.Percentage("alternation-tolerance")), new Maybe("as", new OneOf(new Addition("rms"), new Addition("peak"))));

    private static Addition Contacting { get; } = new("contact", Blank.Of("closed-ohms", Unit.Ohm),
        new Maybe("open", Blank.Of("open-ohms", Unit.Ohm)),
        new Maybe("bounces", "for", Blank.Of("bounce", Unit.Seconds)),
        new Maybe("wets", new Blank("wetting-amps", Shape.Range, UnitWords.Describe(Unit.Amps), Unit.Amps)));

    private static Addition Pulsed { get; } =
        new("pulses", new Blank("pulse-levels", Shape.Range, "a voltage or a resistance, such as 0 V"));

    private static Addition Excited { get; } = new("excited", "by", new Blank("excitation", Shape.Name, "a source with a sine"));

    private static Addition Withstands { get; } = new("withstands", Blank.Of("withstood-amps", Unit.Amps));

    private static Addition Rated { get; } = new("rated", Blank.Of("rated-watts", Unit.Watt));

    private static Addition MostExcitation { get; } = new("stands", Blank.Of("most-excitation", Unit.Volts));

    public override void Declare(StatementSyntax statement, Scope scope) => scope.Declare(statement.Token("name"), "sensor");

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        if (!scope.Builder.HasRoom(scope.Builder.Sensors.Count, "sensors", statement.Span))
            return;
        bool isBetween = statement.Has("from-node");
        string node = scope.Node(statement.Token(isBetween ? "from-node" : "node"));
        string other = isBetween ? scope.Node(statement.Token("to-node")) : statement["other"] is not null
            ? scope.Node(statement.Token("other")) : Circuit.Ground;
        scope.Builder.Places[statement.Token("name").Text] = statement.Span;
        double ohms = scope.NotNegative(statement["ohms"]) ?? 0;
        var laws = SensorLaws.All.Where(l => statement.Has(l.Form.Name)).ToArray();
        Sensor? sensor = statement.Has(Contacting.Name) && !statement.Has("quantity") ? OfContact(statement, scope, node, ohms, laws)
            : statement.Has("quantity") ? Measuring(statement, scope, node, ohms, laws)
            : Volts(statement, scope, node, ohms, laws);
        if (statement.Has(Alternates.Name) && sensor is not null)
            sensor = Alternating(sensor, statement, scope);
        if (sensor is not null && statement.Has("quantity")
            && (sensor.Output == Unit.Hertz || statement.Has(Contacting.Name) || statement.Has(Pulsed.Name) || statement.Has("duty")))
            sensor = Pulsing(sensor, statement, scope);
        if (sensor is null)
            return;
        if (isBetween != IsPassive(sensor))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, isBetween
                ? "A sensor that gives a voltage, a current or a charge drives a node."
                : $"A sensor that is a {(sensor.Output == Unit.Ohm ? "resistance" : "capacitance")} stands between two nodes.",
                isBetween ? $"drives {node}{(other == Circuit.Ground ? "" : $" against {other}")}" : $"from {node} to {other}");
            return;
        }
        if (AcOnly(sensor, statement) is var (problem, expected))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, problem, expected);
            return;
        }
        var wiring = sensor.Wiring ?? SensorLaws.WiringOf(statement, scope);
        if (statement.Has("bridge") && other == Circuit.Ground)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, "A bridge has two outputs.",
                $"drives {node} against its other output");
            return;
        }
        double? dissipation = scope.Positive(statement["watts-per-kelvin"]);
        if (dissipation is not null && (sensor.Output != Unit.Ohm || sensor.Law is { IsOfTemperature: false }))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided,
                "A dissipation constant is of a resistance that measures a temperature.");
            return;
        }
        double? withstands = scope.Positive(statement["withstood-amps"]);
        if (withstands is not null && (wiring is Bridge or Track || SensorOutput.Of(sensor with { Wiring = wiring }) is null))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided,
                "A current that it withstands is of a sensor that gives a voltage or is a resistance.");
            return;
        }
        double? rated = scope.Positive(statement["rated-watts"]), stands = scope.Positive(statement["most-excitation"]);
        if (rated is not null && SensorOutput.Of(sensor with { Wiring = wiring }) is not { IsResistive: true }
            || stands is not null && wiring is not Bridge)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, rated is not null && stands is null
                ? "A rated power is of a sensor that is a resistance, a potentiometer or a bridge." : "An excitation is of a bridge.");
            return;
        }
        scope.Builder.Sensors.Add(sensor with
        {
            Wiring = wiring is Bridge excited ? excited with { MostVolts = stands } : wiring,
            WithstandsAmps = withstands,
            RatedWatts = rated,
            WattsPerKelvin = dissipation,
            ExcitedBy = statement.Has(Excited.Name) ? statement.Token("excitation").Text : null,
            Alarms = sensor.Law is { } law ? SensorLaws.AlarmsOf(statement, law, scope) : null,
            Hum = SensorSurroundings.HumOf(statement, scope),
            CommonMode = SensorSurroundings.CommonModeOf(sensor, other, wiring, statement, scope),
            Return = SensorSurroundings.ReturnOf(statement, scope),
            Compliance = sensor.Law is { } driving ? SensorLaws.ComplianceOf(statement, driving, scope) : null,
            Other = wiring is Track ? scope.Node(statement.Token("track-bottom")) : other,
            Farads = scope.NotNegative(statement["farads"]) ?? 0,
            SourceTolerance = scope.Fraction(statement["source-tolerance"]),
            EdgeSeconds = scope.Positive(statement["edge-time"]),
            Ripple = SensorSurroundings.RippleOf(statement, scope),
        });
    }

    /// <summary>A contact; null after a complaint.</summary>
    private static Sensor? OfContact(StatementSyntax statement, Scope scope, string node, double ohms, SensorLawWords[] laws)
    {
        string[] beside = [.. laws.Select(l => l.Form.Name), .. new[] { "span", Pulsed.Name, "duty", Alternates.Name }
            .Concat(SensorLaws.Errors.Select(e => e.Name)).Where(statement.Has)];
        if (beside.Length > 0)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided,
                $"A contact is open or closed, so {beside[0]} has no meaning; where its closings are counted, it says what they measure.",
                $"sensor {statement.Token("name").Text} of flow 0 l/min .. 30 l/min from {node} to GND "
                    + "gives 0 Hz .. 210 Hz contact 0.1 ohm");
            return null;
        }
        return ContactOf(statement, scope) is not { } contact ? null : new Sensor(statement.Token("name").Text, node, Sensor.States, ohms)
        {
            Quantity = "state",
            UnitText = "",
            Contact = contact,
            Law = new StraightLaw(Sensor.States, contact.OpenOhms, contact.ClosedOhms, Unit.Ohm),
        };
    }

    /// <summary>What is said of a contact; null after a complaint.</summary>
    private static Contact? ContactOf(StatementSyntax statement, Scope scope)
    {
        if (scope.Positive(statement["closed-ohms"]) is not { } closed)
            return null;
        double open = statement["open-ohms"] is { } given ? scope.Positive(given) ?? 0 : Contact.UsualOpenOhms;
        var wets = statement["wetting-amps"] is { } amps ? scope.Span(amps) : null;
        string? problem = !(open > closed) ? "An open contact has more resistance than a closed one."
            : wets is { Low: <= 0 } ? "The least current that keeps a contact clean is above 0 A." : null;
        if (problem is null)
        {
            double? bounce = scope.NotNegative(statement["bounce"]);
            return new(closed, open, bounce ?? Contact.UsualBounceSeconds) { WettingAmps = wets, IsBounceTaken = bounce is null };
        }
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.OutOfRange, problem,
            "such as contact 100 mohm open 10 Mohm bounces for 2 ms wets 1 mA .. 100 mA");
        return null;
    }

    /// <summary>A sensor whose law gives a frequency; null after a complaint.</summary>
    private static Sensor? Pulsing(Sensor sensor, StatementSyntax statement, Scope scope)
    {
        var law = sensor.Law as StraightLaw;
        string? problem = sensor.Output != Unit.Hertz ? "Contacts, pulses and their duty are of a sensor that gives a frequency."
            : law is null ? "What is told by pulses gives a frequency in a straight line."
            : Math.Min(law.AtLow, law.AtHigh) < 0 ? "A frequency is not below 0 Hz."
            : statement.Has(Contacting.Name) == statement.Has(Pulsed.Name)
                ? statement.Has(Pulsed.Name) ? "Pulses are made by a contact or go between two levels, but both are given."
                    : "It is not said what the pulses are."
            : law.SensitivityError > 0 ? "What a frequency may be off by is said as accuracy." : null;
        if (problem is not null)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, problem,
                "such as: gives 7 Hz .. 210 Hz pulses 0 V .. 5 V duty 40% .. 60%, or contact 0.1 ohm bounces for 1 ms");
            return null;
        }
        Contact? contact = null;
        Quantity low, high;
        if (statement.Has(Contacting.Name))
        {
            if ((contact = ContactOf(statement, scope)) is null)
                return null;
            (low, high) = (new(contact.OpenOhms, Unit.Ohm), new(contact.ClosedOhms, Unit.Ohm));
        }
        else if (statement["pulse-levels"] is Filled<RangeExpression> { Value: var levels }
            && SensorLaws.Given(levels.Low, null, scope) is { } from
            && SensorLaws.Given(levels.High, from.Unit, scope) is { } to)
        {
            (low, high) = (from, to);
        }
        else
            return null;
        var duty = statement["duty-cycle"] is { } share ? scope.Span(share) : null;
        if (statement.Has("duty") && duty is null)
            return null;
        string? wrong = low.Unit != Unit.Volts && low.Unit != Unit.Ohm ? "Pulses go between two voltages or two resistances."
            : low.Value == high.Value ? "Pulses go between two different levels."
            : low.Unit == Unit.Ohm && !(Math.Min(low.Value, high.Value) > 0) ? "A resistance above 0 ohm is needed."
            : duty is { Low: <= 0 } or { High: >= 1 } ? "A pulse takes more than nothing and less than all of a period." : null;
        if (wrong is not null)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.OutOfRange, wrong, "such as pulses 0 V .. 5 V duty 40% .. 60%");
            return null;
        }
        return sensor with
        {
            Span = Sensor.States,
            Quantity = "state",
            UnitText = "",
            Contact = contact,
            Law = new StraightLaw(Sensor.States, low.Value, high.Value, low.Unit),
            Pulses = new(sensor.Quantity, sensor.UnitText, sensor.Span, law!.AtLow, law.AtHigh, duty)
            {
                OffsetError = law.OffsetError,
                ProportionalError = law.ProportionalError,
            },
        };
    }

    private static bool IsPassive(Sensor sensor) => sensor.Output == Unit.Ohm || sensor.Output == Unit.Farad;

    /// <summary>What is wrong with a sensor that shows in what alternates alone, or with one that does not; null for nothing.</summary>
    private static (string Problem, string Expected)? AcOnly(Sensor sensor, StatementSyntax statement)
    {
        bool isCapacitance = sensor.Output == Unit.Farad;
        if (statement.Has(Excited.Name) != isCapacitance)
        {
            return isCapacitance ? ("A capacitance shows only in what alternates, and it is not said what excites it.",
                    "excited by V1, beside a line such as source V1 from OSC to GND 0 V sine 1 V at 10 kHz")
                : ("What is excited is a sensor that is a capacitance.", "gives 160 pF .. 200 pF, for example");
        }
        if (sensor.Output != Unit.Coulomb)
            return null;
        return sensor.Law is not StraightLaw || sensor.Alternation is null ? ("A charge leaks away, so it shows only while it alternates.",
                "gives 0 nAs .. 0.5 nAs and alternates at 1 kHz as peak, for example")
            : !statement.Has("farads") ? ("A charge stands on the sensor's own capacitance, which is not given.",
                "capacitance 470 pF, for example")
            : null;
    }

    /// <summary>A sensor that is given by its voltage alone.</summary>
    private static Sensor? Volts(StatementSyntax statement, Scope scope, string node, double ohms, SensorLawWords[] laws)
    {
        var ofMeasuring = SensorLaws.Errors.Add(SensorLaws.Alarms).Add(SensorLaws.Driven).Add(Alternates);
        if (laws.Length > 0 || ofMeasuring.Any(e => statement.Has(e.Name)))
        {
            string word = laws.Length > 0 ? laws[0].Form.Name : ofMeasuring.First(e => statement.Has(e.Name)).Name;
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided,
                $"It is not said what the sensor measures, so {word} has no meaning.",
                $"sensor {statement.Token("name").Text} of temperature -20 C .. 80 C, for example");
            return null;
        }
        if (statement.Has("span"))
        {
            if (scope.FollowingSpan(statement["volts"]) is not var (span, rail, atLow, atHigh))
                return null;
            var sensor = new Sensor(statement.Token("name").Text, node, span, ohms);
            return rail is null ? sensor : sensor with
            {
                Law = new StraightLaw(span, atLow, atHigh, Unit.None),
                Wiring = new ShareOfRail(rail) { IsOfVoltage = true },
            };
        }
        if (!statement.HasUnread)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorWithoutSpan, "The sensor has no span.",
                "span LOW .. HIGH, such as span -1.2 V .. 1.8 V, or what it measures: of temperature -20 C .. 80 C");
        }
        return null;
    }

    /// <summary>A sensor with a quantity and a unit of its own.</summary>
    private static Sensor? Measuring(StatementSyntax statement, Scope scope, string node, double ohms, SensorLawWords[] laws)
    {
        var range = statement.Get<MeasuredRange>("measured");
        string quantity = statement.Token("quantity").Text, unit = range.High.UnitText;
        if (scope.MeasuredSpan(statement["measured"], unit) is not { } span)
            return null;
        if (statement.Has("span") || laws.Length > 1)
        {
            string[] said = [.. laws.Select(l => l.Form.Name), .. statement.Has("span") ? ["span"] : Array.Empty<string>()];
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, statement.Has("span")
                ? "The span is given twice: behind what is measured, and as span."
                : $"A sensor becomes electrical in one way, but {string.Join(" and ", said)} are given.", "one of "
                    + string.Join(", ", SensorLaws.All.Select(l => l.Form.Name)));
            return null;
        }
        if (laws.Length == 0)
        {
            // Volts, ohm and amperes are what they are.
            if (UnitWords.Find(unit) is var (own, power) && (own == Unit.Volts || own == Unit.Ohm || own == Unit.Amps))
                return Checked(new StraightLaw(span, Math.Pow(10, power) * span.Low, Math.Pow(10, power) * span.High, own));
            if (!statement.HasUnread)
            {
                scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided,
                    $"It is not said what the sensor gives for its {quantity}.",
                    "such as gives 0.5 V .. 4.5 V, thermistor 10 kohm at 25 C beta 3977, or platinum 100 ohm");
            }
            return null;
        }
        return laws[0].Make(range, span, statement, scope) is { } law ? Checked(law) : null;

        Sensor? Checked(SensorLaw law)
        {
            if (law.IsOfTemperature && unit != "°C")
                return Refuse(DiagnosticCode.WrongUnit, $"A {laws[0].Form.Name} measures a temperature in C, but the span is in {unit}.",
                    "a span in C");
            if (law.Validity is { } valid && (span.Low < valid.Low || span.High > valid.High))
            {
                return Refuse(DiagnosticCode.SensorBeyondLaw,
                    $"The span {range.Low} .. {range.High} goes beyond {ValueText.Measured(valid, unit)}, where the {laws[0].Form.Name} "
                    + $"holds.",
                    "a span inside of that");
            }
            if (law.TurnsAt(span) is { } place)
            {
                return Refuse(DiagnosticCode.SensorTurns, law.At(span.Low) == law.At(span.High)
                    ? "The sensor gives the same at both ends of its span."
                    : $"What the sensor gives turns back near {ValueText.Measured(place, unit)}, so one output would stand for two "
                        + $"readings.", "a span over which it only rises or only falls");
            }
            double least = Math.Min(law.At(span.Low), law.At(span.High));
            if ((law.Output == Unit.Ohm || law.Output == Unit.Farad) && !(least > 0))
                return Refuse(DiagnosticCode.OutOfRange,
                    $"A {(law.Output == Unit.Ohm ? "resistance" : "capacitance")} above 0 {law.Output.Symbol} "
                        + "is needed over the whole span, but "
                    + $"it comes to {ValueText.Of(least, law.Output.Symbol)}.", null);
            if (scope.Measured(statement["own-error"], unit) is { } error)
                law = law with { OffsetError = Math.Abs(error), ProportionalError = scope.Fraction(statement["own-share"]) ?? 0 };
            if (statement.Has("slope-error") && law is not (StraightLaw or TableLaw))
                return Refuse(DiagnosticCode.SensorUndecided,
                    $"sensitivity-error is of a straight line or a table, not of a {laws[0].Form.Name}.", null);
            if (scope.NotNegative(statement["dark-amps"]) is { } dark)
            {
                if (law is not StraightLaw { Gives: var gives } straight || gives != Unit.Amps)
                    return Refuse(DiagnosticCode.SensorUndecided,
                        "A dark current is of a photodiode, which gives a current in a straight line.",
                        "gives 0 A .. 20 uA, for example");
                law = straight with { DarkAmps = dark };
            }
            if (statement.Has("cold-junction") && law is not ThermocoupleLaw)
                return Refuse(DiagnosticCode.SensorUndecided, $"A cold junction is of a thermocouple, not of a {laws[0].Form.Name}.", null);
            if (law is ThermocoupleLaw && !statement.Has("cold-junction"))
                return Refuse(DiagnosticCode.SensorUndecided,
                    "It is not said how well the firmware knows the temperature of the cold junction.",
                    "cold-junction within 1 C, for example, or cold-junction measured beside a reading from two pins");
            return new Sensor(statement.Token("name").Text, node, span, ohms) { Quantity = quantity, UnitText = unit, Law = law };
        }

        Sensor? Refuse(DiagnosticCode code, string what, string? expected)
        {
            scope.Diagnostics.Error(statement.Span, code, what, expected);
            return null;
        }
    }

    /// <summary>A sensor whose span and outputs are amplitudes; null after a complaint.</summary>
    private static Sensor? Alternating(Sensor sensor, StatementSyntax statement, Scope scope)
    {
        if (scope.Positive(statement["alternation-hertz"]) is not { } hertz)
            return null;
        double tolerance = scope.Fraction(statement["alternation-tolerance"]) ?? 0;
        var span = sensor.Span;
        string? problem = sensor.Law is not StraightLaw law
            || law.Gives != Unit.Volts && law.Gives != Unit.Amps && law.Gives != Unit.Coulomb
            ? "What alternates gives a voltage, a current or a charge in a straight line."
            : span.Low < 0 ? "The span of what alternates is one of its amplitude, which is never below zero."
            : Math.Abs(law.AtLow * span.High - law.AtHigh * span.Low) > 1e-9 * Math.Abs(law.AtHigh * span.High)
                ? "What alternates gives nothing at nothing, and in proportion beyond that."
            : null;
        if (problem is not null)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, problem,
                "such as: sensor heater of current 0 A .. 13 A drives CT against MID gives 0 mA .. 6.5 mA alternates at 50 Hz as rms");
            return null;
        }
        var wave = new Alternation(hertz, tolerance, statement.Has("peak") ? Amplitude.Peak : Amplitude.Rms, span);
        return Spanning(sensor, wave.Instants, Alternation.Crest(wave.Said)) with { Alternation = wave };
    }

    /// <summary>The same over another span of the same straight line, its own error in another measure.</summary>
    private static Sensor Spanning(Sensor sensor, FrontEnds.Quantities.Span span, double errors)
    {
        var law = (StraightLaw)sensor.Law!;
        double slope = law.AtHigh / law.Input.High;
        return sensor with
        {
            Span = span,
            Law = law with { Input = span, AtLow = slope * span.Low, AtHigh = slope * span.High, OffsetError = errors * law.OffsetError },
        };
    }

    /// <summary>A sensor as it is said: an alternating one by its amplitudes.</summary>
    private static Sensor Said(Sensor sensor) => sensor.Alternation is { } wave
        ? Spanning(sensor, wave.Amplitudes, 1 / Alternation.Crest(wave.Said)) : sensor;

    /// <summary>The lines of what has two states.</summary>
    private static IEnumerable<string> States(Sensor s)
    {
        if (s.Pulses is { } p)
        {
            yield return $"gives {ValueText.Hertz(p.LowHertz)} .. {ValueText.Hertz(p.HighHertz)}";
            if (p.Duty is { } duty)
                yield return $"duty {ValueText.Percent(duty.Low)} .. {ValueText.Percent(duty.High)}";
            if (p.OffsetError > 0 || p.ProportionalError > 0)
            {
                yield return $"accuracy {ValueText.Measured(p.OffsetError, p.UnitText)}"
                    + (p.ProportionalError > 0 ? " plus " + ValueText.Percent(p.ProportionalError) : "");
            }
        }
        var law = (StraightLaw)s.Law!;
        yield return s.Contact is not { } c
            ? $"pulses {ValueText.Of(law.AtLow, law.Gives.Symbol)} .. {ValueText.Of(law.AtHigh, law.Gives.Symbol)}"
            : $"contact {ValueText.Ohms(c.ClosedOhms)} open {ValueText.Ohms(c.OpenOhms)}"
                + (c.IsBounceTaken ? "" : $" bounces for {ValueText.Seconds(c.BounceSeconds)}")
                + (c.WettingAmps is { } wets ? $" wets {ValueText.Of(wets.Low, "A")} .. {ValueText.Of(wets.High, "A")}" : "");
    }

    private static string SpanText(Sensor s)
    {
        return s is not { Wiring: ShareOfRail { Rail: var rail }, Law: StraightLaw law } ? ValueText.Of(s.Span)
            : $"{End(law.AtLow)} .. {End(law.AtHigh)}";

        string End(double share) => share == 0 ? "0 V" : share == 1 ? rail : $"{ValueText.Percent(share)} * {rail}";
    }

    private static string Measured(Sensor s) => s.Pulses is { } p ? $"of {p.Quantity} {ValueText.Measured(p.Measured, p.UnitText)} "
        : s.IsVoltage || s.HasStates ? "" : $"of {s.Quantity} {ValueText.Measured(s.Span, s.UnitText)} ";

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Sensors.Select(Said).Select(s => new StatementText(
        $"sensor {s.Name} {Measured(s)}"
            + (IsPassive(s) ? $"from {s.Node} to {s.Other}"
                : $"drives {s.Node}{(s.Other == Circuit.Ground || s.Wiring is Track ? "" : $" against {s.Other}")}"),
    [
        .. s.HasStates ? States(s) : s is { Law: { } law, IsVoltage: false } ? SensorLaws.Write(law, s) : ["span " + SpanText(s)],
        .. StatementText.If(s.SourceOhms > 0, () => "source " + ValueText.Ohms(s.SourceOhms)
            + (s.SourceTolerance is { } tolerance ? " " + ValueText.Percent(tolerance) : "")),
        .. StatementText.If(s.Farads > 0, () => "capacitance " + ValueText.Farads(s.Farads)),
        .. StatementText.If(s.WithstandsAmps, amps => "withstands " + ValueText.Of(amps, "A")),
        .. StatementText.If(s.RatedWatts, w => "rated " + ValueText.Of(w, "W")),
        .. StatementText.If((s.Wiring as Bridge)?.MostVolts, v => "stands " + ValueText.Volts(v)),
        .. StatementText.If(s.WattsPerKelvin, w => $"dissipation {ValueText.Of(w, "W")}/K"),
        .. SensorLaws.Write(s.Alarms),
        .. SensorLaws.Write(s.Compliance),
        .. s.Hum is { } hum ? [$"hum {ValueText.Volts(hum.RmsVolts)} at {ValueText.Hertz(hum.Hertz)}"
            + (hum.Tolerance > 0 ? " " + ValueText.Percent(hum.Tolerance) : "")
            + (hum.Farads is { } through ? " through " + ValueText.Farads(through) : "")] : Array.Empty<string>(),
        .. StatementText.If(s.Return is { Ohms: > 0 }, () => $"return {ValueText.Ohms(s.Return!.Ohms)}"
            + (s.Return.Amps is { } amps ? $" carries {ValueText.Of(amps.Low, "A")} .. {ValueText.Of(amps.High, "A")}" : "")),
        .. StatementText.If(s.CommonMode is not null, () => "common-mode " + ValueText.Of(s.CommonMode!.Volts)),
        .. StatementText.If(s.Return is { OffsetVolts: > 0 }, () => "ground-offset " + ValueText.Volts(s.Return!.OffsetVolts)),
        .. s.Alternation is { } wave ? [$"alternates at {ValueText.Hertz(wave.Hertz)}"
            + (wave.Tolerance > 0 ? " " + ValueText.Percent(wave.Tolerance) : "") + (wave.Said == Amplitude.Peak ? " as peak" : " as rms")]
            : Array.Empty<string>(),
        .. StatementText.If(s.ExcitedBy is not null, () => "excited by " + s.ExcitedBy),
        .. StatementText.If(s.EdgeSeconds, edge => "edge " + ValueText.Seconds(edge)),
        .. s.Ripple is { } r ? [$"ripple {ValueText.Volts(r.PeakToPeakVolts)} at {ValueText.Hertz(r.Hertz)}"] : Array.Empty<string>(),
    ]));
}
