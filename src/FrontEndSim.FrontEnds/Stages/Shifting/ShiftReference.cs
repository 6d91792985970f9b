using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>What a shift is taken from: a rail, the wiper of a potentiometer across it, or a divider of it that an op amp
/// buffers.</summary>
internal sealed record ShiftReference
{
    // A wiper's contact: the larger of 3 ohm and a hundredth of the track (typical of cermet trimmers, from memory).
    private const double SmallestWiperOhms = 3, WiperShare = 0.01;

    // A divider ahead of a buffer takes about a tenth of a milliampere from 3 V (common practice, no source).
    private const double DividerOhms = 30e3;

    /// <summary>Name of the rail behind it.</summary>
    public required string Rail { get; init; }

    /// <summary>Voltage of that rail, V.</summary>
    public required double RailVolts { get; init; }

    /// <summary>The node that the stage's resistor starts from.</summary>
    public required string Node { get; init; }

    /// <summary>Its voltage without load, V.</summary>
    public required double Volts { get; init; }

    /// <summary>The same with the finite gain, offset and bias current of a buffer, V.</summary>
    public required double ExpectedVolts { get; init; }

    /// <summary>Source resistance, ohm.</summary>
    public required double SourceOhms { get; init; }

    /// <summary>The parts that make it; none for a rail.</summary>
    public ImmutableArray<Part> Parts { get; init; } = [];

    /// <summary>The hand calculation of it; empty for a rail.</summary>
    public ImmutableArray<HandStep> HandMath { get; init; } = [];

    /// <summary>The potentiometer, or null.</summary>
    public PotentiometerPart? Potentiometer { get; init; }

    /// <summary>Whether the potentiometer is still to be turned so that the shift comes out right.</summary>
    public bool MayTurn { get; init; }

    /// <summary>A resistor to the reference with the reference's own resistance, ohm; null where there is none.</summary>
    public static double? OhmsOf(double? resistor, ShiftReference? reference) => resistor + (reference?.SourceOhms ?? 0);

    /// <summary>That resistance as hand calculations call it: "R2", or "(R2 + Rref)" where the reference has one of its own.</summary>
    public static string NameOf(string resistor, ShiftReference? reference) =>
        reference?.SourceOhms > 0 ? $"({resistor} + Rref)" : resistor;

    /// <summary>What it makes of an op amp's network; nothing where there is no resistor.</summary>
    public static Leg[] LegOf(double? resistor, ShiftReference? reference) =>
        OhmsOf(resistor, reference) is { } ohms ? [new(ohms, reference?.Volts ?? 0)] : [];

    /// <summary>Reads "offset" and what stands between its rail and the stage; null without one.</summary>
    /// <param name="request">The request.</param>
    /// <param name="target">The target, its reference apart.</param>
    /// <exception cref="StageProblemException">The settings contradict each other.</exception>
    public static ShiftReference? Read(StageRequest request, ShiftTarget target)
    {
        var track = request.Given(StageKind.Potentiometer, UsualSpread.Potentiometer.Amount);
        bool turns = track is not null, isBuffered = request.Has(StageKind.Buffered);
        if (!request.TryGet(StageKind.OffsetFrom, out var rail))
        {
            return turns || isBuffered ? throw new StageProblemException(turns ? "potentiometer" : "buffered",
                new(ProblemKind.NoRailNamed, request.Name)) : null;
        }
        if (turns && isBuffered)
            throw new StageProblemException("buffered", new(ProblemKind.NotBoth, request.Name)
            {
                Known = [StageKind.Potentiometer.Name, StageKind.Buffered.Name],
            });
        if (!turns && request.Has(StageKind.Turned))
            throw new StageProblemException("turned", new(ProblemKind.NoPotentiometer, request.Name));
        double volts = rail.Volts.Value;
        if (!turns && !isBuffered)
        {
            return new()
            {
                Rail = rail.Name,
                RailVolts = volts,
                Node = rail.Name,
                Volts = volts,
                ExpectedVolts = volts,
                SourceOhms = rail.SeriesOhms,
            };
        }
        // A fifth above the shift at the input and at the output: then resistors alone bring it down to what is needed, in every stage.
        double share = target.Mapping is null || volts == 0 ? 0.5
            : Math.Clamp(1.2 * Math.Abs(target.Offset / volts) * Math.Max(1, 1 / target.Gain), 0.2, 0.9);
        if (isBuffered)
            return Buffered(request, target, rail, share);
        var part = new PotentiometerPart(request.Name + ".P", Circuit.Ground, rail.Name, request.Name + ".REF",
            track!.Value, request.Get(StageKind.Turned, share));
        if (part.Position is not (>= 0 and <= 1))
            throw new StageProblemException("turned", new(ProblemKind.Turn));
        part = part with { WiperOhms = Math.Max(SmallestWiperOhms, WiperShare * part.Ohms.Value) };
        return new ShiftReference
        {
            Rail = rail.Name,
            RailVolts = volts,
            Node = part.Wiper,
            Volts = 0,
            ExpectedVolts = 0,
            SourceOhms = 0,
            Potentiometer = part,
            MayTurn = !request.Has(StageKind.Turned),
        }.Turned(part.Position);
    }

    /// <summary>The same with its potentiometer turned elsewhere.</summary>
    /// <param name="position">Share of the track between ground and the wiper, 0 to 1.</param>
    public ShiftReference Turned(double position)
    {
        var part = Potentiometer! with { Position = position };
        double track = part.Ohms.Value, volts = position * RailVolts, ohms = track * position * (1 - position) + part.WiperOhms;
        return this with
        {
            Potentiometer = part,
            Parts = [part],
            Volts = volts,
            ExpectedVolts = volts,
            SourceOhms = ohms,
            HandMath =
            [
                new("reference at the wiper without load", "Vref = α·Vrail", $"{SiText.Format(position, "%")}·{ShiftHandMath.V(RailVolts)}",
                    volts, "V") { Measure = new VoltageMeasure(part.Wiper, IsUnloaded: true) },
                new("its source resistance with the wiper's own", "Rref = P·α·(1 − α) + Rw",
                    $"{ShiftHandMath.Ohms(track)}·{SiText.Format(position, "")}·(1 − {SiText.Format(position, "")}) + "
                        + $"{ShiftHandMath.Ohms(part.WiperOhms)}", ohms,
                        "ohm") { Measure = new ResistanceMeasure(part.Wiper, IsUnloaded: true) },
            ],
        };
    }

    private static ShiftReference Buffered(StageRequest request, ShiftTarget target, Rail rail, double share)
    {
        string name = request.Name, middle = name + ".DIV", output = name + ".REF";
        Toleranced? upper = target.Given(request, StageKind.UpperDivider), lower = target.Given(request, StageKind.LowerDivider);
        // The pair nearest to the share wanted, of a decade of upper resistors.
        var pairs = from a in upper is { } u ? [u.Value] : target.Decade(null, DividerOhms * (1 - share) / Math.Sqrt(10))
                    from b in target.Near(lower, a * share / (1 - share))
                    orderby Math.Abs(b / (a + b) - share), Math.Abs(Math.Log((a + b) / DividerOhms))
                    select (Upper: a, Lower: b);
        var pair = pairs.First();
        Toleranced ra = upper ?? target.Chosen(pair.Upper), rb = lower ?? target.Chosen(pair.Lower);
        double volts = rail.Volts.Value * rb.Value / (ra.Value + rb.Value);
        var amp = request.Get(StageKind.OpAmp);
        var network = new OpAmpNetwork([new Leg(ra.Value, rail.Volts.Value, IsInput: true), new Leg(rb.Value, 0)], [], 0);
        return new()
        {
            Rail = rail.Name,
            RailVolts = rail.Volts.Value,
            Node = output,
            Volts = volts,
            ExpectedVolts = network.Expected(amp.Type.Model).Output(rail.Volts.Value),
            SourceOhms = 0,
            Parts =
            [
                new ResistorPart(name + ".Ra", rail.Name, middle, ra),
                new ResistorPart(name + ".Rb", middle, Circuit.Ground, rb),
                amp.Part(name + ".Ub", middle, output, output),
            ],
            HandMath =
            [
                new("reference of the divider, held by a buffer", "Vref = Vrail·Rb/(Ra + Rb)",
                    $"{ShiftHandMath.V(rail.Volts.Value)}·{ShiftHandMath.Ohms(rb.Value)}/({ShiftHandMath.Ohms(ra.Value)} + "
                        + $"{ShiftHandMath.Ohms(rb.Value)})", volts, "V") { Measure = new VoltageMeasure(output) },
            ],
        };
    }
}
