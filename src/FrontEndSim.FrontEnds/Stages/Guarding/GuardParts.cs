using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>The parts that guards in front of a pin share, collected in order, with their hand calculation.</summary>
internal sealed class GuardParts
{
    private readonly StageRequest _request;
    private readonly string _input, _pin;
    private readonly ImmutableArray<Part>.Builder _parts = ImmutableArray.CreateBuilder<Part>();
    private readonly ImmutableArray<HandStep>.Builder _math = ImmutableArray.CreateBuilder<HandStep>();

    /// <summary>The nodes of a guard.</summary>
    public static Setting<(string Input, string Output)> Ends { get; } = StageKind.EndNodes("Input node and the node of the pin.");

    /// <summary>The resistor that takes what the clamps do not.</summary>
    public static PartSetting Series { get; } = new("series", true, "Series resistor.", Unit.Ohm);

    /// <summary>Its rated power.</summary>
    public static AmountSetting Rated { get; } =
        StageKind.Amount("rated", "Rated power of the series resistor; 250 mW if left out.", Unit.Watt);

    /// <summary>Its energy in a pulse.</summary>
    public static AmountSetting Pulse { get; } = StageKind.Amount("pulse",
        "Energy that a pulse may bring into the series resistor; the rated power for 100 ms if left out.", Unit.Joule);

    /// <summary>A capacitor at the pin.</summary>
    public static PartSetting Shunt { get; } = StageKind.Capacitor("shunt", "Capacitor from the pin to ground.");

    /// <summary>A resistor that holds the pin.</summary>
    public static PartSetting PullDown { get; } =
        StageKind.Resistor("pulldown", "Resistor from the pin to ground, which holds the pin when nothing is connected.");

    /// <summary>The resistor that takes what clamps push into a rail that cannot sink it.</summary>
    public static Setting<(double Ohms, Rail Rail)> Bleeder { get; } = Setting.Of("bleeder", false,
        "Resistor from a rail to ground, which takes what the clamps push into a rail that only delivers.",
        new QuantityBlank("value", Unit.Ohm), "on", new RailBlank("rail"));

    /// <summary>Reads series with its ratings, pulldown, bleeder and shunt.</summary>
    /// <exception cref="StageProblemException">One of them makes no sense.</exception>
    public GuardParts(StageRequest request)
    {
        _request = request;
        (_input, _pin) = request.Get(Ends);
        var series = request.Toleranced(Series, UsualSpread.Resistor.Amount);
        var resistor = new ResistorPart(request.Name + ".R", _input, _pin, series);
        _parts.Add(resistor with
        {
            Role = Role.SeriesResistor,
            RatedWatts = request.Positive(Rated, resistor.RatedWatts),
            PulseJoules = request.Has(Pulse) ? request.Positive(Pulse) : null,
        });
        if (request.Given(PullDown, UsualSpread.Resistor.Amount) is { } pulldown)
        {
            _parts.Add(new ResistorPart(request.Name + ".Rp", _pin, Circuit.Ground, pulldown) { Role = Role.PullDown });
            Gain = pulldown.Value / (series.Value + pulldown.Value);
            _math.Add(new("gain of series resistor and pull-down", "a = Rp / (R + Rp)",
                $"a = {ShiftHandMath.Ohms(pulldown.Value)} / ({ShiftHandMath.Ohms(series.Value)} + {ShiftHandMath.Ohms(pulldown.Value)})",
                    Gain, ""));
        }
        if (request.TryGet(Bleeder, out var bleeder))
        {
            double ohms = StageRequest.Positive(Bleeder, bleeder.Ohms, Unit.Ohm);
            var rail = bleeder.Rail;
            _parts.Add(new ResistorPart(request.Name + ".Rb", rail.Name, Circuit.Ground, new(ohms, UsualSpread.Resistor.Amount)));
            _math.Add(new("what the bleeder draws, and a clamp may push into the rail", "I = Vs / Rb",
                $"I = {SiText.Format(rail.Volts.Value, "V")} / {ShiftHandMath.Ohms(ohms)}", rail.Volts.Value / ohms, "A"));
        }
        SeenOhms = series.Value * Gain;
        if (request.Given(Shunt, UsualSpread.Capacitor.Amount) is { } shunt)
        {
            _parts.Add(new CapacitorPart(request.Name + ".C", _pin, Circuit.Ground, shunt));
            _math.Add(new("corner frequency", $"fc = 1 / (2π · {Seen} · C)",
                $"fc = 1 / (2π · {ShiftHandMath.Ohms(SeenOhms)} · {SiText.Format(shunt.Value, "F")})",
                    1 / (2 * Math.PI * SeenOhms * shunt.Value), "Hz"));
        }
    }

    /// <summary>Gain of series resistor and pull-down; 1 without one.</summary>
    public double Gain { get; } = 1;

    /// <summary>Series resistor and pull-down in parallel: what a current into the pin's node flows through, ohm.</summary>
    public double SeenOhms { get; }

    /// <summary>What <see cref="SeenOhms"/> is made of.</summary>
    public string Seen => Gain < 1 ? "(R ∥ Rp)" : "R";

    /// <summary>Adds a diode whose cathode is at the pin, from ground.</summary>
    public void AddBelow(string suffix, DiodeType type) => _parts.Add(new DiodePart(_request.Name + suffix, Circuit.Ground, _pin, type)
    {
        Role = type.Kind == DiodeKind.Zener ? Role.Zener : Role.LowerClamp,
    });

    /// <summary>Adds a diode whose anode is at the pin, to a rail.</summary>
    public void AddAbove(string suffix, Rail rail, DiodeType type) =>
        _parts.Add(new DiodePart(_request.Name + suffix, _pin, rail.Name, type) { Role = Role.UpperClamp });

    /// <summary>Adds lines to the hand calculation.</summary>
    public void Add(params ReadOnlySpan<HandStep> steps) => _math.AddRange(steps);

    /// <summary>The stage of these parts.</summary>
    public Stage ToStage(StageKind kind)
    {
        var line = new LinearExpectation(Gain, 0);
        return new Stage(_request.Name, kind.Name, [new("from", _input), new("to", _pin)], _parts.ToImmutable())
        {
            HandMath = _math.ToImmutable(),
            Ideal = line,
            Expected = line,
        };
    }
}
