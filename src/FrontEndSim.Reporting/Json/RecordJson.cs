using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.FrontEnds.Uncertainty;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Json;

/// <summary>
/// A study's record as JSON. Keys are the record's property names with a small first letter, so that nothing is described twice; a number's
/// key ends with its unit ("highestVolts"), and a quantity of no fixed unit is an object with "value" and "unit". Things of the front
/// end, a part or a pin, stand by their names. Infinite numbers and those that do not exist are null.
/// </summary>
public static class RecordJson
{
    // What a record keeps of its solution for the plots is no part of the answer.
    private static readonly HashSet<Type> Solutions =
    [
        typeof(Trace), typeof(TransientResult), typeof(SweepResult), typeof(OperatingPoint),
            typeof(FrontEnd), typeof(DesignTarget), typeof(DesignResult), typeof(StageRequest),
        typeof(ImmutableArray<Contribution>), typeof(ShareExpression), typeof(ImmutableArray<WholeStep>),
    ];

    // Said elsewhere: a requirement's exposure among the events, a candidate's mapping in the file that it becomes.
    private static readonly HashSet<(Type, string)> Repeated =
        [(typeof(DesignCandidate), "mapping"), (typeof(DesignReference), "candidate"), (typeof(Rating), "quantity")];

    // Each is one of several kinds.
    private static readonly Dictionary<Type, Type[]> Kinds = new()
    {
        [typeof(Reason)] =
            [
                typeof(PinReason), typeof(MappingReason), typeof(ReadingReason), typeof(HeadroomReason), typeof(ComparatorReason),
                typeof(SingleFaultReason),
                typeof(PartReason), typeof(NoiseMarginReason), typeof(HeldLevelReason), typeof(EdgeDelayReason), typeof(CleanEdgesReason),
                typeof(NotComputed),
                typeof(PartsReason), typeof(StabilityReason), typeof(NothingToJudge), typeof(SamplingReason), typeof(StepReason),
                typeof(SupplyReason), typeof(BoardReason), typeof(NodeReason), typeof(RailReason),
                    typeof(SettlingReason), typeof(NoiseReason), typeof(DetectionReason),
                typeof(RailLiftReason), typeof(RegulationReason), typeof(OutputCapacitorReason), typeof(StarvedReason),
                typeof(ComplianceReason),
                typeof(HumReason), typeof(PulsesReason), typeof(WettingReason),
            ],
        [typeof(Warning)] = [typeof(RailDriven), typeof(RailBackFed), typeof(EventSwallowed), typeof(ArresterSilent)],
        [typeof(DesignRefusal)] =
            [typeof(NoNegativeRail), typeof(NoSupply), typeof(InputsOutOfRange), typeof(OutputOutOfRange), typeof(OutOfRangeAtCorner),
                typeof(NotBuilt), typeof(NotSolved)],
        [typeof(DesignAssumption)] = [typeof(PinTaken), typeof(ResistorsTaken), typeof(SpanArriving),
            typeof(SourceCounted), typeof(RailsExact)],
        [typeof(DesignNote)] =
            [typeof(RailBled), typeof(LargeSeriesResistor), typeof(LeakyClamp), typeof(LeakageUnknown), typeof(BeyondRatingWhenOff)],
    };

    /// <summary>How records are written.</summary>
    internal static JsonSerializerOptions Options { get; } = new()
    {
        TypeInfoResolver = RecordContext.Default.WithAddedModifier(Shape),
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, // "µ" and "°" as they are
        Converters =
        {
            new NumberConverter(), new QuantityConverter(),
            new NameConverter<Part>(p => p.Name), new NameConverter<Pin>(p => p.Name),
                new NameConverter<Rail>(r => r.Name), new NameConverter<Sensor>(s => s.Name),
            new StageConverter(), new NameConverter<FaultEvent>(e => e.Name), new NameConverter<Disturbance>(d => d.Text),
            new NameConverter<OpAmpType>(t => t.Name), new NameConverter<DiodeType>(t => t.Name), new NameConverter<ESeries>(s => s.Name),
            new NameConverter<Requirement>(RequirementWords.Of), new NameConverter<RatingKind>(k => k.Word),
        },
    };

    /// <summary>The text, with a line break at its end.</summary>
    /// <exception cref="NotSupportedException">Records of this type are not written; see <see cref="RecordContext"/>.</exception>
    public static string Write<T>(T record) where T : notnull =>
        JsonSerializer.Serialize(record, (JsonTypeInfo<T>)Options.GetTypeInfo(typeof(T))) + "\n";

    private static void Shape(JsonTypeInfo type)
    {
        if (type.Kind != JsonTypeInfoKind.Object)
            return;
        foreach (var property in type.Properties.Where(p => Solutions.Contains(p.PropertyType) || Repeated.Contains((type.Type, p.Name)))
            .ToArray())
            type.Properties.Remove(property);
        // One of several kinds says first which it is.
        if (!Kinds.TryGetValue(type.Type, out var kinds))
            return;
        type.PolymorphismOptions = new JsonPolymorphismOptions { TypeDiscriminatorPropertyName = "kind" };
        foreach (var kind in kinds)
            type.PolymorphismOptions.DerivedTypes.Add(new JsonDerivedType(kind, kind.Name));
    }
}
