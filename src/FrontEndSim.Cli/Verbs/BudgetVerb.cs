using System.Globalization;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>budget: where the error comes from, and how large it can be.</summary>
internal sealed class BudgetVerb : Verb
{
    private readonly PinOption _pin = new();
    private readonly Option<string?> _temperatures = new("--temperatures")
    {
        HelpName = "°C,°C",
        Description =
            "Temperatures to look at, °C; if not given the ends of the file's range, or else -40,25,85. The file's own is always "
            + "among them: "
                + "the calibration is done there.",
    };
    private readonly Option<string?> _calibration = new("--calibration")
    {
        HelpName = "LOW..HIGH",
        Description = "Where on the span the two readings of the calibration are taken; \"10 % .. 90 %\" if not given.",
    };
    private readonly Option<int?> _trials = new("--trials")
    {
        HelpName = "N",
        Description = "Trials of the Monte Carlo propagation at most, from 1000 to 10,000,000; 10,000 if not given."
    };
    private readonly Option<int> _seed = new("--seed")
    {
        HelpName = "N",
        Description = "Seed of the trials; the same seed gives the same result.",
        DefaultValueFactory = _ => 1
    };

    public BudgetVerb()
        : base("budget", "Ranks what makes readings wrong, and says how wrong they can be: as 95 % coverage interval and worst case, "
        + "before and after a calibration.",
        "budget circuits/rain-tank.fes --temperatures 0,25,60")
    {
        foreach (var option in new Option[] { _pin, _temperatures, _calibration, _trials, _seed })
            Options.Add(option);
    }

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        // A name may be that of a reading; without one a pin that means nothing alone stands for its reading.
        string? asked = line.GetValue(_pin);
        bool isReading = frontEnd.Readings.Any(r => r.Name == asked) || frontEnd.AlternatingReadings.Any(r => r.Name == asked);
        string name = isReading ? asked! : _pin.Pin(line, frontEnd).Name;
        var combined = frontEnd.Readings.FirstOrDefault(r => r.Name == name || asked is null && r.Pins.Contains(name));
        var alternating = frontEnd.AlternatingReadings.FirstOrDefault(r => r.Name == name || r.Pin == name
            && (asked is null || MappingStudy.SensorOf(frontEnd, frontEnd.FindPin(name))?.Alternation is not null));
        var settings = new BudgetSettings();
        if (line.GetValue(_temperatures) is { } temperatures)
            settings = settings with
            {
                Celsius =
                [.. temperatures.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(Celsius)]
            };
        if (line.GetValue(_calibration) is { } calibration)
        {
            var (span, _) = QuantityReader.ReadSpan(calibration, Unit.Percent, "--calibration");
            settings = settings with
            {
                Calibration = span is { Low: >= 0, High: <= 1 } within ? new CalibrationPlaces(within.Low, within.High)
                    : throw new InputException(
                        $"--calibration wants two places on the span, such as \"10 % .. 90 %\", not '{calibration}'"),
            };
        }
        int trials = line.GetValue(_trials) ?? settings.MonteCarlo.BatchDraws * settings.MonteCarlo.MostBatches;
        if (trials is < 1000 or > 10_000_000)
            throw new InputException($"--trials wants a number from 1000 to 10000000, not {trials}");
        settings = settings with
        {
            MonteCarlo =
            settings.MonteCarlo with { Seed = line.GetValue(_seed), BatchDraws = trials / settings.MonteCarlo.MostBatches }
        };
        BudgetResult budget;
        using (var progress = new ProgressLine())
        {
            budget = combined is not null ? CombinedBudget.Run(new SolvedFrontEnd(frontEnd), combined.Name, settings, progress, cancel)
                : alternating is not null
                    ? AlternatingBudget.Run(new SolvedFrontEnd(frontEnd), alternating.Name, settings, progress, cancel)
                : BudgetStudy.Run(frontEnd, name, settings, progress, cancel);
        }
        return Answer.Of(ExitCode.Met, BudgetPage.Of(frontEnd.Title, budget), budget);
    }

    private static double Celsius(string text)
    {
        string number = text.EndsWith("°C", StringComparison.Ordinal) ? text[..^2].TrimEnd() : text;
        return double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double celsius)
            && celsius is > -273.15 and < 1000 ? celsius
            : throw new InputException($"--temperatures wants numbers in °C, such as -40,25,85, not '{text}'");
    }
}
