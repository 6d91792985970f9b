using System.Collections.Immutable;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>A source of error that acts on numbers of the circuit.</summary>
/// <param name="Quantity">The source.</param>
/// <param name="Numbers">The numbers that it acts on.</param>
/// <param name="Apply">Gives the number, from the number so far, the source's value and the kelvins above 25 °C.</param>
internal sealed record BudgetSource(BudgetQuantity Quantity, ImmutableArray<VariedNumber> Numbers, Func<double, double, double, double> Apply);

/// <summary>The sources of error in a front end's parts.</summary>
internal static class BudgetSources
{
    // Where only a typical value is known, the value is taken to lie between that over these factors and that times them,
    // evenly on a logarithmic scale (common practice, no source).
    private const double GainFactor = 4, LeakageFactor = 10;

    // For a zener whose data sheet states none: the A suffix of the 1N4728A series, and the C of half-watt zeners (from memory).
    private const double ZenerTolerance = 0.05;

    public static ImmutableArray<string> Assumptions(FrontEnd frontEnd, Pin pin, BudgetSettings settings)
    {
        var said = ImmutableArray.CreateBuilder<string>();
        string[] assumed =
        [
            .. Ohms(frontEnd).Any(o => o.TempCo is null) ? [$"resistors ±{Ppm(settings.ResistorTempCo)}"] : Array.Empty<string>(),
            .. frontEnd.Rails.Any(r => r.Volts.TempCo is null) ? [$"rails ±{Ppm(settings.RailTempCo)}"] : Array.Empty<string>(),
        ];
        if (assumed.Length > 0)
            said.Add($"Temperature coefficients that the file does not give (drift): {string.Join(", ", assumed)}, each part on its own (common practice, no source).");
        if (frontEnd.AllParts.Any(p => p is OpAmpPart))
        {
            said.Add("Op amps: offset, drift and bias between the limits of their class; bias above its typical value as likely as below; "
                + $"open-loop gain from a quarter to {GainFactor} times its typical value.");
        }
        if (frontEnd.AllParts.Any(p => p is DiodePart))
        {
            string zener = string.Join(", ", frontEnd.AllParts.OfType<DiodePart>().Where(d => d.Type.Kind == DiodeKind.Zener).Select(d => d.Type).Distinct()
                .Select(t => $"{t.Name} ±{SiText.Format(ToleranceOf(t), "%")}{(t.Sheet is { Tolerance: > 0 } ? "" : " (assumed: the A and C suffixes, from memory)")}"));
            said.Add($"Clamps: leakage from a tenth to {LeakageFactor} times its typical value{(zener == "" ? "" : "; zener voltage " + zener)}.");
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

    private static double ToleranceOf(DiodeType zener) => zener.Sheet is { Tolerance: > 0 and var given } ? given : ZenerTolerance;

    private static string Ppm(double perKelvin) => SiText.Plain(perKelvin * 1e6, "ppm/K");

    public static IEnumerable<BudgetSource> Of(FrontEnd frontEnd, BudgetSettings settings)
    {
        foreach (var rail in frontEnd.Rails)
        {
            if (rail.Volts.Tolerance > 0)
                yield return Scale(rail.Name + " tolerance", BudgetKind.Rail, rail.Volts.Tolerance, new VariedNumber(rail.Name, VoltageSource.Scale));
            double tempCo = rail.Volts.TempCo ?? settings.RailTempCo;
            if (tempCo != 0)
                yield return new(new(rail.Name + " drift", Limits(tempCo), BudgetKind.Rail), [new(rail.Name, VoltageSource.Scale)],
                    (now, x, kelvins) => now * (1 + x * kelvins));
        }
        foreach (var part in frontEnd.AllParts)
        {
            var sources = part switch
            {
                ResistorPart r => Resistance(r.Name, r.Ohms, [r.Name], settings),
                PotentiometerPart p => Resistance(p.Name, p.Ohms, [p.Name, p.Name + ".upper"], settings),
                OpAmpPart a => Amplifier(a),
                DiodePart d => Clamp(d.Name, d.Type),
                _ => [],
            };
            foreach (var source in sources)
                yield return source;
        }
        foreach (var pin in frontEnd.Pins)
        {
            if (pin.LeakageAmps != 0)
            {
                // A leakage current is a limit for either direction.
                yield return new(new(pin.Name + " leakage", Limits(1), BudgetKind.Leakage), [new(pin.Name + ".leakage", CurrentSource.Scale)], (_, x, _) => x);
            }
        }
    }

    private static IEnumerable<BudgetSource> Resistance(string name, Toleranced ohms, string[] elements, BudgetSettings settings)
    {
        if (ohms.Tolerance > 0)
        {
            yield return Scale(name + " tolerance", BudgetKind.ResistorTolerance, ohms.Tolerance,
                [.. elements.Select(e => new VariedNumber(e, Resistor.Resistance))]);
        }
        double tempCo = ohms.TempCo ?? settings.ResistorTempCo;
        if (tempCo == 0)
            yield break;
        yield return new(new(name + " tempco", Limits(tempCo), BudgetKind.ResistorTemperature),
            [.. elements.Select(e => new VariedNumber(e, Resistor.TemperatureCoefficient))], (_, x, _) => x);
    }

    private static IEnumerable<BudgetSource> Amplifier(OpAmpPart amp)
    {
        var type = amp.Type;
        if (type.OffsetVoltsSpread > 0)
        {
            yield return new(new(amp.Name + " offset", Limits(type.OffsetVoltsSpread), BudgetKind.OffsetVoltage),
                [new(amp.Name, OpAmp.OffsetVoltage)], (now, x, _) => now + x);
        }
        if (type.OffsetVoltsPerKelvin > 0)
        {
            yield return new(new(amp.Name + " offset drift", Limits(type.OffsetVoltsPerKelvin), BudgetKind.OffsetVoltage),
                [new(amp.Name, OpAmp.OffsetVoltage)], (now, x, kelvins) => now + x * kelvins);
        }
        if (type.BiasAmpsSpread > Math.Abs(type.Model.BiasAmps) && type.Model.BiasAmps != 0)
            yield return Factor(amp.Name + " bias", BudgetKind.BiasCurrent, type.BiasAmpsSpread / Math.Abs(type.Model.BiasAmps), new VariedNumber(amp.Name, OpAmp.BiasCurrent));
        if (type.OffsetAmpsSpread > 0)
        {
            yield return new(new(amp.Name + " offset current", Limits(type.OffsetAmpsSpread), BudgetKind.BiasCurrent),
                [new(amp.Name, OpAmp.OffsetCurrent)], (now, x, _) => now + x);
        }
        yield return Factor(amp.Name + " gain", BudgetKind.Gain, GainFactor, new VariedNumber(amp.Name, OpAmp.OpenLoopGain));
    }

    private static IEnumerable<BudgetSource> Clamp(string name, DiodeType type)
    {
        var model = type.Model;
        yield return Factor(name + " leakage", BudgetKind.Leakage, LeakageFactor,
            [new(name, Diode.SaturationCurrent), .. model.LeakageSiemens > 0 ? [new VariedNumber(name, Diode.LeakageConductance)] : Array.Empty<VariedNumber>()]);
        if (type.Kind == DiodeKind.Zener && double.IsFinite(model.BreakdownVolts))
            yield return Scale(name + " zener voltage", BudgetKind.Leakage, ToleranceOf(type), new VariedNumber(name, Diode.BreakdownVoltage));
    }

    private static RectangularInput Limits(double either) => new(-Math.Abs(either), Math.Abs(either));

    private static BudgetSource Scale(string name, BudgetKind kind, double tolerance, params ImmutableArray<VariedNumber> numbers) =>
        new(new(name, Limits(tolerance), kind), numbers, (now, x, _) => now * (1 + x));

    private static BudgetSource Factor(string name, BudgetKind kind, double factor, params ImmutableArray<VariedNumber> numbers) =>
        new(new(name, Limits(1), kind), numbers, (now, x, _) => now * Math.Pow(factor, x));
}
