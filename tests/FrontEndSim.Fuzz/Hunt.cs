using System.Collections.Concurrent;
using System.Diagnostics;

namespace FrontEndSim.Fuzz;

/// <summary>Hands cases to workers until the time is up, and keeps what failed.</summary>
internal sealed class Hunt(ulong seed, string folder, TextWriter output)
{
    private const long Stretch = 200;

    private readonly ConcurrentDictionary<string, (long Number, string Verb, Finding Finding, int Count)> _found = new();
    private long _read, _solved;

    /// <summary>Runs for a time.</summary>
    /// <returns>Exit code: 0 if nothing new was found, else 1.</returns>
    public int Run(TimeSpan time, long first, int workers)
    {
        using var end = new CancellationTokenSource(time);
        var watch = Stopwatch.StartNew();
        long next = first - Stretch;
        Task.WaitAll([.. Enumerable.Range(0, workers).Select(_ => Task.Factory.StartNew(() =>
        {
            using var worker = new WorkerProcess();
            while (!end.IsCancellationRequested)
                worker.Run(seed, Interlocked.Add(ref next, Stretch), Stretch, Began, (number, finding) => Keep(number, worker.Current.Verb, finding), end.Token);
        }, TaskCreationOptions.LongRunning))]);
        output.WriteLine(FormattableString.Invariant(
            $"{_read} files read and {_solved} given to verbs in {watch.Elapsed.TotalSeconds:0} s, seed {seed}, from case {first}; {_found.Count} kinds of failure."));
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

    private void Began(string verb) => Interlocked.Increment(ref verb == FuzzCase.Read ? ref _read : ref _solved);

    private void Keep(long number, string verb, Finding finding) =>
        _found.AddOrUpdate($"{finding.Signature} ({(finding.Signature.Contains(" in ", StringComparison.Ordinal) ? "" : verb)})",
            (number, verb, finding, 1), (_, old) => old with { Count = old.Count + 1 });

    /// <summary>Shrinks the first input of each kind of failure, writes it, and tells of it, those that are known as such.</summary>
    private int Tell()
    {
        string repository = Seeds.Repository(AppContext.BaseDirectory);
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
