using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>What a budget takes for granted.</summary>
internal static class BudgetSources
{
    public static BudgetAssumptions Assumptions(FrontEnd frontEnd, Pin pin, AssumedSpread assumed) => new()
    {
        ResistorTempCo = Any(frontEnd, Assumption.ResistorTempCo) ? assumed.ResistorTempCo : null,
        RailTempCo = frontEnd.Rails.Any(r => r.Volts.TempCo is null) ? assumed.RailTempCo : null,
        GainFactor = Any(frontEnd, Assumption.Gain) ? assumed.GainFactor : null,
        LeakageFactor = Any(frontEnd, Assumption.Leakage) ? assumed.LeakageFactor : null,
        Zeners =
        [
            .. frontEnd.AllParts.Where(p => p.BreaksDown is not null).Select(p => p.BreaksDown!.Value).Distinct()
                .Select(b => new ZenerTolerance(b.Type, b.Tolerance ?? assumed.ZenerTolerance, b.Tolerance is null)),
        ],
        NotGiven = pin.Converter is not { } converter ? [] :
        [
            .. converter.OffsetErrorCounts is null ? [ConverterError.Offset] : Array.Empty<ConverterError>(),
            .. converter.GainErrorCounts is null ? [ConverterError.Gain] : Array.Empty<ConverterError>(),
            .. converter.LinearityCounts is null ? [ConverterError.Linearity] : Array.Empty<ConverterError>(),
        ],
        HasSensorError = frontEnd.Sensors.Any(s => s.HasOwnError),
        IsQuantised = pin.Converter is not null,
        HasLinearity = pin.Converter is { LinearityCounts: > 0 },
        Samples = pin is { Sampling: not null, Converter: not null },
        Celsius = frontEnd.Celsius,
    };

    private static bool Any(FrontEnd frontEnd, Assumption what) => frontEnd.AllParts.Any(p => p.Assumes.HasFlag(what));
}
