using System.CommandLine;
using FrontEndSim.Language.Binding;

namespace FrontEndSim.Cli.Verbs;

/// <summary>--watch: the verb runs again whenever the circuit file, or one that it includes, is saved.</summary>
internal sealed class WatchOption : Option<bool>
{
    private static readonly TimeSpan Glance = TimeSpan.FromMilliseconds(100);

    public WatchOption() : base("--watch") =>
        Description = "Run again whenever the file, or one that it includes, is saved; Ctrl-C ends it.";

    /// <summary>Runs once, or, if watching, after each change until cancelled.</summary>
    /// <param name="watches">Whether the option was given.</param>
    /// <param name="path">The circuit file.</param>
    /// <param name="run">Runs the verb; gives its exit code.</param>
    /// <param name="cancel">Ends the watching.</param>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public int Run(bool watches, string path, Func<int> run, CancellationToken cancel)
    {
        if (!watches)
            return run();
        if (!File.Exists(path))
            return run(); // says what is wrong with the path; there is nothing to watch
        while (true)
        {
            var seen = Stamps(path);
            try
            {
                run();
            }
            catch (Exception e) when (e is not OperationCanceledException)
            {
                // The last good result stays: on the screen above, or in the file.
                Entry.Explain(e);
            }
            Console.Error.WriteLine($"{DateTime.Now:HH:mm:ss} watching {Path.GetFileName(path)}; Ctrl-C ends");
            while (Stamps(path).SequenceEqual(seen))
                Wait(cancel);
            // An editor may write in more than one go: begin when the file has come to rest.
            for (seen = []; !Stamps(path).SequenceEqual(seen); Wait(cancel))
                seen = Stamps(path);
        }
    }

    private static void Wait(CancellationToken cancel)
    {
        cancel.WaitHandle.WaitOne(Glance);
        cancel.ThrowIfCancellationRequested();
    }

    /// <summary>When each of the files was written, and how long it is. Looking is surer than being told: editors replace files.</summary>
    private static List<(string, DateTime, long)> Stamps(string path)
    {
        var stamps = new List<(string, DateTime, long)>();
        foreach (string file in CircuitFile.Load(path).Files.Select(f => f.Path).DefaultIfEmpty(path))
        {
            var info = new FileInfo(file);
            stamps.Add((file, info.LastWriteTimeUtc, info.Exists ? info.Length : -1));
        }
        return stamps;
    }
}
