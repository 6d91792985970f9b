using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.FrontEnds.Uncertainty;

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
        typeof(Trace), typeof(TransientResult), typeof(SweepResult), typeof(OperatingPoint), typeof(FrontEnd), typeof(DesignWish), typeof(DesignResult), typeof(StageRequest),
        typeof(ImmutableArray<Contribution>),
    ];

    // Said elsewhere: a requirement's exposure among the events, a candidate's mapping in the file that it becomes.
    private static readonly HashSet<(Type, string)> Repeated = [(typeof(DesignCandidate), "mapping"), (typeof(DesignReference), "candidate"), (typeof(Rating), "quantity")];

    private static readonly Type[] Reasons =
    [
        typeof(PinReason), typeof(MappingReason), typeof(HeadroomReason), typeof(SingleFaultReason), typeof(PartReason), typeof(NoiseMarginReason),
        typeof(EdgeDelayReason), typeof(CleanEdgesReason), typeof(NotComputed), typeof(PartsReason), typeof(StabilityReason), typeof(NothingToJudge), typeof(StepReason),
    ];

    private static readonly Type[] Warnings = [typeof(RailDriven), typeof(EventSwallowed), typeof(ArresterSilent)];

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
            new NameConverter<Part>(p => p.Name), new NameConverter<Pin>(p => p.Name), new NameConverter<Rail>(r => r.Name), new NameConverter<Sensor>(s => s.Name),
            new StageConverter(), new NameConverter<FaultEvent>(e => e.Name), new NameConverter<Disturbance>(d => d.Text),
            new NameConverter<OpAmpType>(t => t.Name), new NameConverter<DiodeType>(t => t.Name), new NameConverter<ESeries>(s => s.Name),
            new NameConverter<Requirement>(r => r.Text), new NameConverter<RatingKind>(k => k.Word),
        },
    };

    /// <summary>The text, with a line break at its end.</summary>
    /// <exception cref="NotSupportedException">Records of this type are not written; see <see cref="RecordContext"/>.</exception>
    public static string Write<T>(T record) where T : notnull => JsonSerializer.Serialize(record, (JsonTypeInfo<T>)Options.GetTypeInfo(typeof(T))) + "\n";

    private static void Shape(JsonTypeInfo type)
    {
        if (type.Kind != JsonTypeInfoKind.Object)
            return;
        foreach (var property in type.Properties.Where(p => Solutions.Contains(p.PropertyType) || Repeated.Contains((type.Type, p.Name))).ToArray())
            type.Properties.Remove(property);
        // One of several kinds says first which it is.
        var kinds = type.Type == typeof(Reason) ? Reasons : type.Type == typeof(Warning) ? Warnings : [];
        if (kinds.Length == 0)
            return;
        type.PolymorphismOptions = new JsonPolymorphismOptions { TypeDiscriminatorPropertyName = "kind" };
        foreach (var kind in kinds)
            type.PolymorphismOptions.DerivedTypes.Add(new JsonDerivedType(kind, kind.Name));
    }
}
