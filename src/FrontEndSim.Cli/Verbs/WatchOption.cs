using FrontEndSim.Language.Binding;

namespace FrontEndSim.Cli.Verbs;

/// <summary>--watch: the verb runs again whenever the circuit file, or one that it includes, is saved.</summary>
internal sealed class WatchOption : Option<bool>
{
    // An editor may write in more than one go; where no events come, as from some network drives, looking now and then finds the change.
    private static readonly TimeSpan Settling = TimeSpan.FromMilliseconds(40), Look = TimeSpan.FromSeconds(2);

    public WatchOption() : base("--watch") =>
        Description = "Run again whenever the file, or one that it includes, is saved; Ctrl-C ends it.";

    /// <summary>Runs once, or, if watching, after each change until cancelled.</summary>
    /// <param name="watches">Whether the option was given.</param>
    /// <param name="path">The circuit file.</param>
    /// <param name="includesBelow">The folder that included files must lie below; null for the circuit's own.</param>
    /// <param name="run">Runs the verb; gives its exit code.</param>
    /// <param name="cancel">Ends the watching.</param>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public int Run(bool watches, string path, string? includesBelow, Func<int> run, CancellationToken cancel)
    {
        if (!watches || !File.Exists(path))
            return run(); // says what is wrong with the path; there is nothing to watch
        while (true)
        {
            string[] files = [.. CircuitFile.Load(path, includesBelow).Files.Select(f => Path.GetFullPath(f.Path))
                .DefaultIfEmpty(Path.GetFullPath(path))];
            using var changed = new SemaphoreSlim(0);
            FileSystemWatcher[] watchers = [.. files.Select(f => Path.GetDirectoryName(f)!).Distinct()
                .Select(folder => Watch(folder, files, changed)).OfType<FileSystemWatcher>()];
            try
            {
                var seen = Stamps(files);
                try
                {
                    run();
                }
                catch (Exception e) when (e is not OperationCanceledException)
                {
                    // The last good result stays: on the screen above, or in the file.
                    Entry.Explain(e);
                }
                Terminal.Tell($"{DateTime.Now:HH:mm:ss} watching {Path.GetFileName(path)}; Ctrl-C ends");
                while (Stamps(files).SequenceEqual(seen))
                    changed.Wait(Look, cancel);
                for (seen = []; !Stamps(files).SequenceEqual(seen); cancel.WaitHandle.WaitOne(Settling))
                    seen = Stamps(files);
                cancel.ThrowIfCancellationRequested();
            }
            finally
            {
                foreach (var watcher in watchers)
                    watcher.Dispose();
            }
        }
    }

    /// <summary>Tells of changes in a folder; null where the system does not tell.</summary>
    private static FileSystemWatcher? Watch(string folder, string[] files, SemaphoreSlim changed)
    {
        FileSystemWatcher? watcher = null;
        try
        {
            watcher = new FileSystemWatcher(folder);
            void Tell(object sender, FileSystemEventArgs e)
            {
                if (files.Contains(e.FullPath))
                    changed.Release();
            }
            watcher.Changed += Tell;
            watcher.Created += Tell;
            watcher.Renamed += Tell; // editors replace files
            watcher.EnableRaisingEvents = true;
            return watcher;
        }
        catch (Exception e) when (e is IOException or ArgumentException or PlatformNotSupportedException)
        {
            watcher?.Dispose();
            return null;
        }
    }

    /// <summary>When each of the files was written, and how long it is.</summary>
    private static List<(DateTime, long)> Stamps(string[] files) =>
        [.. files.Select(f => new FileInfo(f)).Select(i => (i.LastWriteTimeUtc, i.Exists ? i.Length : -1))];
}
