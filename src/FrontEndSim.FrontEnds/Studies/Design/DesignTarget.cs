using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>What a shifting stage is to be designed for, and where it goes.</summary>
public sealed record DesignTarget
{
    /// <summary>The kinds of stage that shift, in the order in which they are tried.</summary>
    public static ImmutableArray<string> ShiftingKinds { get; } =
        ["single-stage-shifter", "difference-stage", "two-stage-shifter", "passive-shifter"];

    /// <summary>All but the stage to be designed: rails, sensors, pins, events, requirements, and what stands ahead of it or
    /// behind.</summary>
    public required FrontEnd Surroundings { get; init; }

    /// <summary>Where the stage goes.</summary>
    public required DesignGap Gap { get; init; }

    /// <summary>Where the sensor's span is to land at the stage's output, V.</summary>
    public required Span Onto { get; init; }

    /// <summary>Whether the completed design is to say what it keeps; not where the surroundings require something themselves.</summary>
    public bool AddsRequirements { get; init; } = true;

    /// <summary>What was taken for granted to make this target.</summary>
    public ImmutableArray<DesignAssumption> Assumed { get; init; } = [];

    /// <summary>Name of the stage.</summary>
    public string StageName { get; init; } = "shift";

    /// <summary>Kinds of stage to try.</summary>
    public ImmutableArray<string> Kinds { get; init; } = ShiftingKinds;

    /// <summary>Settings of the stage that are decided already.</summary>
    public SettingValues Decided { get; init; } = SettingValues.Empty;

    /// <summary>Series of preferred numbers to choose from, each on its own.</summary>
    public ImmutableArray<ESeries> Series { get; init; } = [ESeries.E12, ESeries.E24, ESeries.E96];

    /// <summary>Tolerance of the resistors, a fraction. 1 % parts are sold in the values of all three series (common practice, no
    /// source).</summary>
    public double Tolerance { get; init; } = 0.01;

    /// <summary>Classes of op amp to choose from.</summary>
    public ImmutableArray<OpAmpType> OpAmps { get; init; } = PartCatalogue.Standard.OpAmps;

    /// <summary>What the shift is to be taken from; null for what is best.</summary>
    public ReferenceKind? Reference { get; init; }

    /// <summary>The sensor.</summary>
    public Sensor Sensor => Surroundings.FindSensor(Gap.Sensor);

    /// <summary>The pin.</summary>
    public Pin Pin => Surroundings.FindPin(Gap.Pin);

    /// <summary>Rails at hand. Ground is always at hand.</summary>
    public ImmutableArray<Rail> Rails => Surroundings.Rails;

    /// <summary>Input range of the pin's converter with the rails at their nominal voltages, V.</summary>
    public Span Range => Pin.Converter!.Range(Rails);

    /// <summary>Whether something stands between the stage and the pin already; a guard is designed only where nothing does.</summary>
    public bool IsGuarded => Gap.Output != Pin.Node;

    /// <summary>Refuses a target that no stage can fulfil.</summary>
    /// <exception cref="StudyProblemException">Something stands in the way; the message says what to change.</exception>
    internal void Demand()
    {
        if (Pin.Converter is null)
            throw new StudyProblemException(new(ProblemKind.NoBits, Pin.Name));
        double highest = Rails.Select(r => r.Volts.Value).Append(0).Max(), lowest = Rails.Select(r => r.Volts.Value).Append(0).Min();
        string all = string.Join(", ", Rails.Select(r => $"{r.Name} {V(r.Volts.Value)}"));
        if (Onto.High > Range.High + Rounding)
        {
            throw new StudyProblemException(new(ProblemKind.SpanAboveSupply, Pin.Name, "", V(Onto.High), High: V(Range.High)));
        }
        if (Onto.Low < Range.Low - Rounding && Range.Low == 0)
        {
            throw new StudyProblemException(new(ProblemKind.SpanBelowGround, Pin.Name, "", V(Onto.Low), High: V(Range.High)));
        }
        if (Onto.Low < Range.Low - Rounding)
        {
            throw new StudyProblemException(new(ProblemKind.SpanBelowRange, Pin.Name, "", V(Onto.Low), V(Range.Low)));
        }
        if (Onto.High > highest + Rounding || Onto.Low < lowest)
        {
            throw new StudyProblemException(new(ProblemKind.SpanOutsideRails, Pin.Name, "",
                V(Onto.High > highest + Rounding ? Onto.High : Onto.Low), V(lowest), V(highest))
            {
                Known = [.. Rails.Select(r => r.Name)],
            });
        }

        static Quantity V(double volts) => new(volts, Unit.Volts);
    }

    private const double Rounding = 1e-9;
}
