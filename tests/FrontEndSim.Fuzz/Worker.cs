using System.Globalization;
using System.Text.Json;

namespace FrontEndSim.Fuzz;

/// <summary>The process that does the work, so that a case that kills it, or must be killed, takes nothing else along.</summary>
internal static class Worker
{
    /// <summary>Asks for a stretch of cases: <c>run SEED FIRST COUNT ONLY</c>.</summary>
    public const string Run = "run";

    /// <summary>Asks for front ends to be solved: <c>corpus FIRST COUNT</c>.</summary>
    public const string Corpus = "corpus";

    /// <summary>Asks for one file: <c>file VERB PATH</c>.</summary>
    public const string File = "file";

    /// <summary>Says that a case begins: <c>at NUMBER VERB</c>.</summary>
    public const string At = "at";

    /// <summary>Says what is wrong with the case: <c>found JSON</c>.</summary>
    public const string Found = "found";

    /// <summary>Says how the case ended: <c>ended CODE</c>.</summary>
    public const string Ended = "ended";

    /// <summary>Says that all that was asked for is done.</summary>
    public const string Done = "done";

    /// <summary>Answers until its input ends.</summary>
    public static async Task<int> RunAsync(TextReader asked, TextWriter answers)
    {
        var seeds = Seeds.Of(Seeds.Repository);
        string folder = Directory.CreateTempSubdirectory("fes-fuzz-").FullName, path = Path.Combine(folder, "case.fes");
        try
        {
            while (await asked.ReadLineAsync() is { } line)
            {
                if (line.StartsWith(Run + ' ', StringComparison.Ordinal))
                {
                    string[] words = line.Split(' ');
                    long first = long.Parse(words[2], CultureInfo.InvariantCulture),
                        count = long.Parse(words[3], CultureInfo.InvariantCulture);
                    for (long number = first; number < first + count; number++)
                    {
                        var what = FuzzCase.Of(ulong.Parse(words[1], CultureInfo.InvariantCulture), number, seeds);
                        if (words[4] == Hunt.All || words[4] == FuzzCase.Read == (what.Verb == FuzzCase.Read))
                            await AnswerAsync(what, number);
                    }
                }
                else if (line.StartsWith(Corpus + ' ', StringComparison.Ordinal))
                {
                    string[] words = line.Split(' ');
                    int first = int.Parse(words[1], CultureInfo.InvariantCulture),
                        count = int.Parse(words[2], CultureInfo.InvariantCulture);
                    for (int number = first; number < first + count; number++)
                        await AnswerAsync(new FuzzCase(FuzzCase.Solve, FrontEndMaker.Make(new Random(number))), number);
                }
                else
                {
                    string[] words = line.Split(' ', 3);
                    await AnswerAsync(new FuzzCase(words[1], await System.IO.File.ReadAllBytesAsync(words[2])), 0);
                }
                await SayAsync(Done);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
        return 0;

        async Task AnswerAsync(FuzzCase what, long number)
        {
            await SayAsync(FormattableString.Invariant($"{At} {number} {what.Verb}"));
            var (finding, code) = await Judge.RunAsync(what, path);
            if (finding is not null)
                await SayAsync($"{Found} {JsonSerializer.Serialize(finding)}");
            await SayAsync(FormattableString.Invariant($"{Ended} {code}"));
        }

        async Task SayAsync(string line)
        {
            await answers.WriteLineAsync(line);
            await answers.FlushAsync();
        }
    }
}
