using System.Text.Json.Serialization;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Reporting.Json;

/// <summary>The shapes of the records, made at compile time: a program that is compiled ahead has no reflection to ask.</summary>
[JsonSourceGenerationOptions(GenerationMode = JsonSourceGenerationMode.Metadata, UseStringEnumConverter = true)]
[JsonSerializable(typeof(BiasResult))]
[JsonSerializable(typeof(SensorSweep))]
[JsonSerializable(typeof(CheckResult))]
[JsonSerializable(typeof(EventRuns))]
[JsonSerializable(typeof(FaultsResult))]
[JsonSerializable(typeof(ExplainResult))]
[JsonSerializable(typeof(BudgetResult))]
[JsonSerializable(typeof(RespondResult))]
[JsonSerializable(typeof(BuildResult))]
[JsonSerializable(typeof(CompareResult))]
[JsonSerializable(typeof(DesignAnswer))]
[JsonSerializable(typeof(DividerAnswer))]
[JsonSerializable(typeof(TypeSheets))]
[JsonSerializable(typeof(FileChecks))]
[JsonSerializable(typeof(PinReason))]
[JsonSerializable(typeof(SupplyReason))]
[JsonSerializable(typeof(RailLiftReason))]
[JsonSerializable(typeof(RegulationReason))]
[JsonSerializable(typeof(OutputCapacitorReason))]
[JsonSerializable(typeof(StarvedReason))]
[JsonSerializable(typeof(ComplianceReason))]
[JsonSerializable(typeof(HumReason))]
[JsonSerializable(typeof(SamplingReason))]
[JsonSerializable(typeof(MappingReason))]
[JsonSerializable(typeof(HeadroomReason))]
[JsonSerializable(typeof(ComparatorReason))]
[JsonSerializable(typeof(SingleFaultReason))]
[JsonSerializable(typeof(PartReason))]
[JsonSerializable(typeof(NoiseMarginReason))]
[JsonSerializable(typeof(HeldLevelReason))]
[JsonSerializable(typeof(EdgeDelayReason))]
[JsonSerializable(typeof(CleanEdgesReason))]
[JsonSerializable(typeof(PulsesReason))]
[JsonSerializable(typeof(WettingReason))]
[JsonSerializable(typeof(NotComputed))]
[JsonSerializable(typeof(PartsReason))]
[JsonSerializable(typeof(ReadingReason))]
[JsonSerializable(typeof(BoardReason))]
[JsonSerializable(typeof(NodeReason))]
[JsonSerializable(typeof(RailReason))]
[JsonSerializable(typeof(SettlingReason))]
[JsonSerializable(typeof(NoiseReason))]
[JsonSerializable(typeof(StabilityReason))]
[JsonSerializable(typeof(DetectionReason))]
[JsonSerializable(typeof(NothingToJudge))]
[JsonSerializable(typeof(StepReason))]
[JsonSerializable(typeof(RailDriven))]
[JsonSerializable(typeof(RailBackFed))]
[JsonSerializable(typeof(EventSwallowed))]
[JsonSerializable(typeof(ArresterSilent))]
[JsonSerializable(typeof(NoNegativeRail))]
[JsonSerializable(typeof(NoSupply))]
[JsonSerializable(typeof(InputsOutOfRange))]
[JsonSerializable(typeof(OutputOutOfRange))]
[JsonSerializable(typeof(OutOfRangeAtCorner))]
[JsonSerializable(typeof(NotBuilt))]
[JsonSerializable(typeof(NotSolved))]
[JsonSerializable(typeof(PinTaken))]
[JsonSerializable(typeof(ResistorsTaken))]
[JsonSerializable(typeof(SpanArriving))]
[JsonSerializable(typeof(SourceCounted))]
[JsonSerializable(typeof(RailsExact))]
[JsonSerializable(typeof(RailBled))]
[JsonSerializable(typeof(LargeSeriesResistor))]
[JsonSerializable(typeof(LeakyClamp))]
[JsonSerializable(typeof(LeakageUnknown))]
[JsonSerializable(typeof(BeyondRatingWhenOff))]
internal sealed partial class RecordContext : JsonSerializerContext;
