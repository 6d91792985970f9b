using System.Text.Json;
using System.Text.RegularExpressions;
using FrontEndSim.Cli;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Fuzz;

/// <summary>Runs a case in this process and says what is wrong with how it ended.</summary>
internal static partial class Judge
{
    // Currents that do not add up by a thousandth of the largest, or energy by a hundredth, are no solution.
    private const double MostKirchhoffShare = 1e-3, MostEnergyImbalance = 1e-2;

    // Below this largest current the share means nothing.
    private const double LeastAmps = 1e-9;

    /// <summary>Writes the file and runs the verb on it.</summary>
    /// <param name="what">The case.</param>
    /// <param name="path">Where its file goes.</param>
    /// <returns>What is wrong, or null, and the exit code; 0 for what was read alone.</returns>
    public static async Task<(Finding? Finding, int Code)> RunAsync(FuzzCase what, string path)
    {
        await File.WriteAllBytesAsync(path, what.File);
        try
        {
            return what.Verb == FuzzCase.Read ? (Read(path), 0) : what.Verb == FuzzCase.Solve ? SolveJudge.Run(path)
                : await VerbsAsync(what.Commands(path));
        }
        catch (Exception e)
        {
            return (new($"exception: {e.GetType().Name} in {Place(e.ToString())}", e.Message), ExitCode.Internal);
        }
    }

    private static Finding? Read(string path)
    {
        var result = CircuitFile.Load(path);
        string said = DiagnosticPrinter.Print(result.Diagnostics);
        if (result.Diagnostics.Any(d => d.IsError) != (result.FrontEnd is null))
            return new("read: neither a front end nor an error, or both", said);
        return result.FrontEnd is null && said.Length == 0 ? new("read: refused without a word", "") : null;
    }

    private static async Task<(Finding?, int)> VerbsAsync(string[][] commands)
    {
        int code = 0;
        foreach (string[] command in commands)
        {
            (var finding, code) = await VerbAsync(command);
            if (finding is not null || code > 1)
                return (finding, code);
        }
        return (null, code);
    }

    private static async Task<(Finding?, int)> VerbAsync(string[] arguments)
    {
        var (output, error) = (Console.Out, Console.Error);
        var (said, complained) = (new StringWriter(), new StringWriter());
        Console.SetOut(said);
        Console.SetError(complained);
        int code;
        try
        {
            code = await Entry.RunAsync(arguments);
        }
        finally
        {
            Console.SetOut(output);
            Console.SetError(error);
        }
        return (Of(code, said.ToString(), complained.ToString()), code);
    }

    private static Finding? Of(int code, string said, string complained)
    {
        if (code is < 0 or > 3)
            return new($"internal error: {Exception().Match(complained).Groups[1].Value} in {Place(complained)}", FirstLine(complained));
        if (code > 1)
            return complained.Length + said.Length == 0 ? new($"exit code {code} without a word", "") : null;
        if (NotFinite().Match(said) is { Success: true } match)
            return new("not finite in the output", said[Math.Max(0, match.Index - 80)..Math.Min(said.Length,
                match.Index + 40)].ReplaceLineEndings(" "));
        return said.StartsWith('{') || said.StartsWith('[') ? Audit(JsonDocument.Parse(said).RootElement) : null;
    }

    private static Finding? Audit(JsonElement element)
    {
        if (element.ValueKind == JsonValueKind.Array)
            return element.EnumerateArray().Select(Audit).FirstOrDefault(f => f is not null);
        if (element.ValueKind != JsonValueKind.Object)
            return null;
        if (Number(element, "kirchhoffAmps") is { } amps && Number(element, "largestAmps") is { } largest && largest > LeastAmps
            && amps > MostKirchhoffShare * largest)
            return new("unbalanced currents beside a verdict", FormattableString.Invariant($"{amps:G3} A of {largest:G3} A"));
        if (Number(element, "energyImbalance") is { } energy && energy > MostEnergyImbalance)
            return new("unbalanced energy beside a verdict", FormattableString.Invariant($"{energy:P1}"));
        foreach (var property in element.EnumerateObject())
        {
            if (property.Value.ValueKind == JsonValueKind.Null && AlwaysFinite().IsMatch(property.Name)
                && !IsOfWhatRests(element, property.Name))
                return new($"not finite: {property.Name}",
                    element.GetRawText()[..Math.Min(200, element.GetRawText().Length)].ReplaceLineEndings(" "));
            if (Audit(property.Value) is { } finding)
                return finding;
        }
        return null;
    }

    // What does not alternate has a peak as little as a frequency.
    private static bool IsOfWhatRests(JsonElement element, string name) =>
        name == "peakVolts" && element.TryGetProperty("hertz", out var hertz) && hertz.ValueKind == JsonValueKind.Null;

    private static double? Number(JsonElement element, string name) =>
        element.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;

    private static string FirstLine(string text) => text.Split('\n')[0].Trim();

    /// <summary>The first of our own methods in a stack trace.</summary>
    private static string Place(string trace) => Frame()
        .Match(trace) is { Success: true } match ? match.Groups[1].Value : "an unknown place";

    [GeneratedRegex(@"at FrontEndSim\.((?:\w+\.)*[\w<>`]+\.[\w<>|`]+)[\[(]")]
    private static partial Regex Frame();

    [GeneratedRegex(@"internal error: (\w+)")]
    private static partial Regex Exception();

    [GeneratedRegex(@"\bNaN\b|\bInfinity\b|∞")]
    private static partial Regex NotFinite();

    [GeneratedRegex("^(peakWatts|joules|meanWatts|warmWatts|peakVolts|peakAmps|highestVolts|lowestVolts|kirchhoffAmps|energyImbalance)$")]
    private static partial Regex AlwaysFinite();
}
