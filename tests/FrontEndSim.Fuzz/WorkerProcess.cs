using System.Diagnostics;
using System.Globalization;
using System.Text.Json;

namespace FrontEndSim.Fuzz;

/// <summary>A worker as its parent sees it, with limits on time and memory; one that breaks them is ended and another one
/// started.</summary>
internal sealed class WorkerProcess : IDisposable
{
    // A case that computes for longer hangs as far as its user is concerned: single faults times bursts are a minute of work. Processor
    // time, as the machine may be busy.
    private static readonly TimeSpan MostProcessorTime = TimeSpan.FromMinutes(2), MostTime = TimeSpan.FromMinutes(10),
        Beat = TimeSpan.FromSeconds(1);

    private const long MostBytes = 2L << 30;

    private Process? _process;
    private Task<string?>? _line;

    /// <summary>Number and verb of the case that the worker is at.</summary>
    public (long Number, string Verb) Current { get; private set; }

    /// <summary>Runs cases one after another; each that begins is told, and each finding.</summary>
    /// <returns>Whether all were run; false if <paramref name="cancel"/> asked for an end.</returns>
    public bool Run(ulong seed, long first, long count, string only, Action<string> begins, Action<string, int> ended, Action<long,
        Finding> found,
        CancellationToken cancel)
    {
        for (long next = first; next < first + count; next = Current.Number + 1)
        {
            Current = (next, "");
            var broken = Ask(FormattableString.Invariant($"{Worker.Run} {seed} {next} {first + count - next} {only}"), begins,
                code => ended(Current.Verb, code),
                f => found(Current.Number, f), cancel);
            if (cancel.IsCancellationRequested)
                return false;
            if (broken is null)
                return true;
            found(Current.Number, broken);
        }
        return true;
    }

    /// <summary>Solves front ends one after another; the code that each ends with is told, and each finding.</summary>
    /// <returns>How many were given to the worker and are through.</returns>
    public long RunCorpus(int first, int count, Action<int> ended, Action<long, Finding> found, CancellationToken cancel)
    {
        for (long next = first; next < (long)first + count; next = Current.Number + 1)
        {
            Current = (next, "");
            bool isWrong = false;
            var broken = Ask(FormattableString.Invariant($"{Worker.Corpus} {next} {first + count - next}"), _ => isWrong = false,
                code =>
                {
                    if (!isWrong)
                        ended(code);
                }, finding =>
                {
                    isWrong = true;
                    found(Current.Number, finding);
                }, cancel);
            if (cancel.IsCancellationRequested)
                return Current.Number - first;
            if (broken is null)
                return count;
            found(Current.Number, broken);
        }
        return count;
    }

    /// <summary>Runs one file; gives what is wrong, or null.</summary>
    public Finding? Run(string verb, string path)
    {
        Finding? finding = null;
        return Ask($"{Worker.File} {verb} {path}", _ => { }, _ => { }, f => finding = f, CancellationToken.None) ?? finding;
    }

    /// <summary>Asks, and listens until the worker is done; what broke it, or null.</summary>
    private Finding? Ask(string request, Action<string> begins, Action<int> ended, Action<Finding> found, CancellationToken cancel)
    {
        var process = Begin(request);
        var (began, used) = (Stopwatch.StartNew(), process.TotalProcessorTime);
        while (true)
        {
            if (cancel.IsCancellationRequested)
                return End(null);
            _line ??= process.StandardOutput.ReadLineAsync(CancellationToken.None).AsTask();
            if (!_line.Wait(Beat))
            {
                process.Refresh();
                if (process.HasExited)
                    continue;
                if (process.WorkingSet64 > MostBytes)
                    return End(Finding.Memory(FormattableString.Invariant($"over {MostBytes >> 20} MB")));
                if (process.TotalProcessorTime - used > MostProcessorTime || began.Elapsed > MostTime)
                    return End(Finding.Hang(FormattableString.Invariant($"over {MostProcessorTime.TotalSeconds:0} s of processor time")));
                continue;
            }
            string? line = _line.Result;
            _line = null;
            if (line is null)
                return End(Finding.Death("its process ended"));
            if (line == Worker.Done)
                return null;
            string[] words = line.Split(' ', 3);
            if (words[0] == Worker.At)
            {
                Current = (long.Parse(words[1], CultureInfo.InvariantCulture), words[2]);
                begins(words[2]);
                (began, used) = (Stopwatch.StartNew(), process.TotalProcessorTime);
            }
            else if (words[0] == Worker.Ended)
            {
                ended(int.Parse(words[1], CultureInfo.InvariantCulture));
            }
            else
            {
                found(JsonSerializer.Deserialize<Finding>(line[(Worker.Found.Length + 1)..])!);
            }
        }
    }

    // A worker that somebody ended between two requests has found nothing: another one is asked.
    private Process Begin(string request)
    {
        while (true)
        {
            var process = Start();
            try
            {
                process.StandardInput.WriteLine(request);
                process.StandardInput.Flush();
                return process;
            }
            catch (IOException) when (process.WaitForExit(2000))
            {
                End(null);
            }
        }
    }

    private Process Start()
    {
        if (_process is { HasExited: false })
            return _process;
        var start = new ProcessStartInfo(Environment.ProcessPath!)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet")
            start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "FrontEndSim.Fuzz.dll"));
        start.ArgumentList.Add("--worker");
        start.Environment["FRONTENDSIM_TRACE"] = "1";
        start.Environment["NO_COLOR"] = "1";
        _process = Process.Start(start)!;
        _process.ErrorDataReceived += (_, _) => { };
        _process.BeginErrorReadLine();
        _line = null;
        return _process;
    }

    private Finding? End(Finding? finding)
    {
        if (_process is { HasExited: false })
            _process.Kill();
        _process?.Dispose();
        _process = null;
        _line = null;
        return finding;
    }

    /// <summary>Ends the worker.</summary>
    public void Dispose()
    {
        if (_process is { HasExited: false })
            _process.StandardInput.Close();
        if (_process?.WaitForExit(2000) == false)
            _process.Kill();
        _process?.Dispose();
    }
}
