using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Report;

/// <summary>Studies that are made side by side, and the share of all that is done. One that fails stops the others when it is asked
/// for.</summary>
/// <param name="progress">Told how far all together are; may be null.</param>
/// <param name="cancel">Stops all.</param>
internal sealed class Sections(IProgress<StudyProgress>? progress, CancellationToken cancel) : IDisposable
{
    private readonly CancellationTokenSource _stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);
    private readonly List<Task> _begun = [];
    private readonly List<double> _done = [];

    /// <summary>Begins a study on a thread of its own.</summary>
    public Section<T> Begin<T>(Func<IProgress<StudyProgress>?, CancellationToken, T> study)
    {
        int place = _begun.Count;
        lock (_done)
            _done.Add(0);
        var share = progress is null ? null : new Share(this, place);
        var task = Task.Run(() =>
        {
            var made = study(share, _stop.Token);
            share?.Report(new(1, ""));
            return made;
        }, _stop.Token);
        _begun.Add(task);
        return new(task);
    }

    /// <summary>Stops what still runs, and waits for it.</summary>
    public void Dispose()
    {
        _stop.Cancel();
        // Whatever one of them fails with now, nobody asks for.
        Task.WhenAll(_begun).ContinueWith(_ => { }, TaskScheduler.Default).Wait();
        _stop.Dispose();
    }

    private void Report(int place, StudyProgress of)
    {
        double done;
        lock (_done)
        {
            _done[place] = of.Fraction;
            done = _done.Average();
        }
        if (of.Doing.Length > 0)
            progress!.Report(of with { Fraction = done });
    }

    private sealed class Share(Sections all, int place) : IProgress<StudyProgress>
    {
        public void Report(StudyProgress value) => all.Report(place, value);
    }
}

/// <summary>A study that was begun.</summary>
/// <typeparam name="T">What it makes.</typeparam>
internal sealed class Section<T>(Task<T> task)
{
    /// <summary>What it made, once it is done; what it failed with is thrown here.</summary>
    public T Result() => task.GetAwaiter().GetResult();
}
