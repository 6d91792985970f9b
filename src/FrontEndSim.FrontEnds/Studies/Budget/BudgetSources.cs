using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>What a budget takes for granted.</summary>
internal static class BudgetSources
{
    public static ImmutableArray<string> Assumptions(FrontEnd frontEnd, Pin pin, AssumedSpread assumed)
    {
        var said = ImmutableArray.CreateBuilder<string>();
        string[] tempCos =
        [
            .. Ohms(frontEnd).Any(o => o.TempCo is null) ? [$"resistors ±{Ppm(assumed.ResistorTempCo)}"] : Array.Empty<string>(),
            .. frontEnd.Rails.Any(r => r.Volts.TempCo is null) ? [$"rails ±{Ppm(assumed.RailTempCo)}"] : Array.Empty<string>(),
        ];
        if (tempCos.Length > 0)
            said.Add($"Temperature coefficients that the file does not give (drift): {string.Join(", ", tempCos)}, each part on its own (common practice, no source).");
        if (frontEnd.AllParts.Any(p => p is OpAmpPart))
        {
            said.Add("Op amps: offset, drift and bias between the limits of their class; bias above its typical value as likely as below; "
                + $"open-loop gain from a quarter to {assumed.GainFactor} times its typical value.");
        }
        if (frontEnd.AllParts.Any(p => p is DiodePart))
        {
            string zener = string.Join(", ", frontEnd.AllParts.OfType<DiodePart>().Where(d => d.Type.Kind == DiodeKind.Zener).Select(d => d.Type).Distinct()
                .Select(t => $"{t.Name} ±{SiText.Format(t.VoltageTolerance ?? assumed.ZenerTolerance, "%")}{(t.VoltageTolerance is not null ? "" : " (assumed: the A and C suffixes, from memory)")}"));
            said.Add($"Clamps: leakage from a tenth to {assumed.LeakageFactor} times its typical value{(zener == "" ? "" : "; zener voltage " + zener)}.");
        }
        said.Add("Limits are taken as rectangular distributions (JCGM 100:2008, 4.3.7); parts do not depend on each other.");
        string[] lacking = pin.Converter is not { } converter ? []
            : [.. new (string Word, double? Counts)[] { ("offset-error", converter.OffsetErrorCounts), ("gain-error", converter.GainErrorCounts), ("linearity", converter.LinearityCounts) }
                .Where(e => e.Counts is null).Select(e => e.Word)];
        said.Add("Not counted, because the file does not give them: the sensor's own error, ageing"
            + (lacking.Length == 0 ? "." : $", and the converter's {string.Join(", ", lacking)}."));
        return said.ToImmutable();
    }

    private static IEnumerable<Toleranced> Ohms(FrontEnd frontEnd) =>
        frontEnd.AllParts.Select(p => p switch { ResistorPart r => r.Ohms, PotentiometerPart p2 => p2.Ohms, _ => (Toleranced?)null }).OfType<Toleranced>();

    private static string Ppm(double perKelvin) => SiText.Plain(perKelvin * 1e6, "ppm/K");
}
