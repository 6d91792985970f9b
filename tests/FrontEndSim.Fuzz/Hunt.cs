using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using FrontEndSim.Cli;

namespace FrontEndSim.Fuzz;

/// <summary>Hands cases to workers until the time is up, and keeps what failed.</summary>
internal sealed class Hunt(ulong seed, string folder, string only, TextWriter output)
{
    /// <summary>Every case is run.</summary>
    public const string All = "all";

    /// <summary>Those that are only read are left out.</summary>
    public const string Verbs = "verbs";


    private const long Stretch = 200;

    private readonly ConcurrentDictionary<string, (long Number, string Verb, Finding Finding, int Count)> _found = new();
    private long _read, _given, _solved, _unsolved;

    /// <summary>Runs for a time.</summary>
    /// <returns>Exit code: 0 if nothing new was found, else 1.</returns>
    /// <param name="time">How long at most.</param>
    /// <param name="first">Number of the first case.</param>
    /// <param name="cases">How many at most.</param>
    /// <param name="workers">Processes at work.</param>
    public int Run(TimeSpan time, long first, long cases, int workers)
    {
        using var end = new CancellationTokenSource(time);
        var watch = Stopwatch.StartNew();
        long next = first - Stretch;
        Task.WaitAll([.. Enumerable.Range(0, workers).Select(_ => Task.Factory.StartNew(() =>
        {
            using var worker = new WorkerProcess();
            while (!end.IsCancellationRequested && Interlocked.Add(ref next, Stretch) is var at && at < first + cases)
                worker.Run(seed, at, Math.Min(Stretch, first + cases - at), only, Began, Ended,
                    (number, finding) => Keep(number, worker.Current.Verb, finding), end.Token);
        }, TaskCreationOptions.LongRunning))]);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{_read} files read and {_given} given to verbs ({_solved} solved, {_unsolved} without a solution, others refused) "
            + $"in {watch.Elapsed.TotalSeconds:0} s, seed {seed}, from case {first}; {_found.Count} kinds of failure."));
        return Tell();
    }

    /// <summary>Runs the files of a folder that has a folder a verb.</summary>
    /// <returns>Exit code: 0 if none fails, else 1.</returns>
    public int Replay(string from)
    {
        using var worker = new WorkerProcess();
        int failed = 0;
        foreach (string file in Directory.EnumerateFiles(from, "*.fes", SearchOption.AllDirectories).Order(StringComparer.Ordinal))
            if (worker.Run(Path.GetFileName(Path.GetDirectoryName(file)!), Path.GetFullPath(file)) is { } finding)
            {
                failed++;
                output.WriteLine($"{Path.GetRelativePath(from, file)}: {finding.Signature}: {finding.Detail}");
            }
        output.WriteLine(FormattableString.Invariant($"{failed} fail."));
        return failed == 0 ? 0 : 1;
    }

    private void Began(string verb) => Interlocked.Increment(ref verb == FuzzCase.Read ? ref _read : ref _given);

    private void Ended(string verb, int code)
    {
        if (verb != FuzzCase.Read && (code == ExitCode.Met || code == ExitCode.NotMet))
            Interlocked.Increment(ref _solved);
        else if (code == ExitCode.NoSolution)
            Interlocked.Increment(ref _unsolved);
    }

    private void Keep(long number, string verb, Finding finding) =>
        _found.AddOrUpdate($"{finding.Signature} ({(finding.Signature.Contains(" in ", StringComparison.Ordinal) ? "" : verb)})",
            (number, verb, finding, 1), (_, old) => old with { Count = old.Count + 1 });

    /// <summary>Shrinks the first input of each kind of failure, writes it, and tells of it, those that are known as such.</summary>
    private int Tell()
    {
        string repository = Seeds.Repository;
        var seeds = Seeds.Of(repository);
        var known = KnownFailures.Of(repository).Select(k => k.Signature).ToHashSet();
        using var worker = new WorkerProcess();
        int fresh = 0;
        foreach (var (number, verb, finding, count) in _found.Values.OrderByDescending(f => f.Count))
        {
            bool isKnown = known.Contains(finding.Signature);
            string file = Path.Combine(folder, verb, FormattableString.Invariant($"{Slug(finding.Signature)}-{seed}-{number}.fes"));
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            var what = FuzzCase.Of(seed, number, seeds);
            File.WriteAllBytes(file, isKnown ? what.File : new Shrinker(worker, Path.GetFullPath(file)).Shrink(what, finding));
            output.WriteLine(FormattableString.Invariant($"{(isKnown ? "known" : "NEW  ")} {count,5}x {verb}: {finding.Signature}: {finding.Detail}"));
            output.WriteLine($"             {file}");
            fresh += isKnown ? 0 : 1;
        }
        return fresh == 0 ? 0 : 1;
    }

    private static string Slug(string signature) =>
        string.Join('-', new string([.. signature.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToLowerInvariant(c) : ' ')])
            .Split(' ', StringSplitOptions.RemoveEmptyEntries).TakeLast(6));
}
