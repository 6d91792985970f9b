using System.Runtime.CompilerServices;
using System.Threading.Channels;

namespace FrontEndSim.LiveBench;

/// <summary>An open tab: what it has still to be sent. A tab that sleeps gets all at once when it wakes.</summary>
internal sealed class Tab(Action<Tab> close) : IDisposable
{
    private readonly Lock _lock = new();
    private readonly Channel<bool> _bell =
        Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
    private Change _waiting = new();

    /// <summary>Adds a change to what the tab has to be sent; a later piece takes the place of an earlier one.</summary>
    public void Add(Change change)
    {
        lock (_lock)
        {
            foreach (var piece in change.Pieces)
            {
                _waiting.Pieces.RemoveAll(p => p.Id == piece.Id);
                _waiting.Pieces.Add(piece);
            }
            foreach (var (node, volts) in change.Volts)
                _waiting.Volts[node] = volts;
            foreach (var (part, load) in change.Loads)
                _waiting.Loads[part] = load;
        }
        _bell.Writer.TryWrite(true);
    }

    /// <summary>The changes, as they come.</summary>
    public async IAsyncEnumerable<Change> Changes([EnumeratorCancellation] CancellationToken cancel)
    {
        while (await _bell.Reader.WaitToReadAsync(cancel))
        {
            _bell.Reader.TryRead(out _);
            Change change;
            lock (_lock)
                (change, _waiting) = (_waiting, new Change());
            if (!change.IsEmpty)
                yield return change;
        }
    }

    /// <summary>Ends the stream, as the bench ends.</summary>
    public void End() => _bell.Writer.TryComplete();

    /// <inheritdoc/>
    public void Dispose() => close(this);
}
