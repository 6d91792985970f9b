using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>Whatever numbers a person writes as a data sheet, the answer is a model or a sentence.</summary>
public class RandomDataSheetTests(ITestOutputHelper output)
{
    private const int Sheets = 4000;

    [Fact]
    public void Every_sheet_ends_with_a_model_that_is_finite_at_its_points_or_with_a_reason()
    {
        var random = new Random(20260117);
        int fitted = 0;
        for (int k = 0; k < Sheets; k++)
        {
            var sheet = Sheet(random, k);
            try
            {
                var type = DiodeFit.Fit(sheet);
                fitted++;
                Assert.All(type.Points, p => Assert.True(double.IsFinite(p.Fitted), $"sheet {k}: {p.Point}: {p.Fitted}"));
            }
            catch (DataSheetException refused)
            {
                Assert.NotEqual("", refused.Message);
            }
            catch (Exception e) when (e is not Xunit.Sdk.XunitException)
            {
                Assert.Fail($"sheet {k} ({sheet.Kind}: {string.Join("; ", sheet.Points)}): {e.GetType().Name}: {e.Message}\n"
                    + $"{e.StackTrace}");
            }
        }
        output.WriteLine($"{fitted} of {Sheets} sheets were fitted, the others refused in words");
    }

    [Theory]
    [InlineData(DiodeKind.Junction, 700, 10e-3)]
    [InlineData(DiodeKind.Junction, 0.1, 1e-3)]
    [InlineData(DiodeKind.Schottky, 1e-6, 1)]
    [InlineData(DiodeKind.Led, 1e6, 1e-12)]
    public void A_forward_voltage_that_no_junction_has_is_refused_or_fitted(DiodeKind kind, double volts, double amps)
    {
        var sheet = new DiodeDataSheet("ODD", kind, [new(DataPointKind.ForwardVoltage, volts, amps)], "made up");
        if (Record.Exception(() => DiodeFit.Fit(sheet)) is { } e)
            Assert.IsType<DataSheetException>(e);
    }

    private static DiodeDataSheet Sheet(Random random, int number)
    {
        var kind = (DiodeKind)random.Next(4);
        var points = ImmutableArray.CreateBuilder<DataPoint>();
        // One sheet in four is plausible but for one number; the others are anything.
        bool wild = random.Next(4) > 0;
        double Decades(double from, double to) => Math.Pow(10, from + (to - from) * random.NextDouble());
        for (int n = random.Next(1, 4); n > 0; n--)
            points.Add(new(DataPointKind.ForwardVoltage, wild ? Decades(-3, 3)
                : 0.3 + random.NextDouble(), Decades(wild ? -12 : -4, wild ? 4 : 1), random.Next(2) == 0));
        for (int n = random.Next(0, 3); n > 0; n--)
            points.Add(new(DataPointKind.Leakage, Decades(-15, wild ? 2 : -5), Decades(-2, 3), random.Next(2) == 0));
        if (kind == DiodeKind.Zener)
        {
            for (int n = random.Next(0, 3); n > 0; n--)
                points.Add(new(DataPointKind.ZenerVoltage, Decades(wild ? -2 : 0.3, wild ? 4 : 2),
                    Decades(wild ? -12 : -4, wild ? 3 : -1)));
            if (random.Next(2) == 0)
                points.Add(new(DataPointKind.Impedance, Decades(-3, wild ? 6 : 2), Decades(wild ? -9 : -4, wild ? 3 : -1),
                    random.Next(2) == 0));
        }
        return new($"SHEET-{number}", kind, points.ToImmutable(), "made up")
        { ReverseVolts = random.Next(2) == 0 ? double.PositiveInfinity : Decades(0, 4) };
    }
}
