using System.Diagnostics;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Cli;

/// <summary>A line on standard error that says what is being done, once it takes more than a second and only on a terminal.</summary>
internal sealed class ProgressLine : IProgress<StudyProgress>, IDisposable
{
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly Lock _lock = new();
    private readonly Timer? _timer;
    private StudyProgress _now = new(0, "");
    private int _shown;

    public ProgressLine()
    {
        if (!Console.IsErrorRedirected)
            _timer = new Timer(_ => Show(), null, 1000, 500);
    }

    public void Report(StudyProgress value)
    {
        lock (_lock)
            _now = value;
    }

    public void Dispose()
    {
        lock (_lock)
        {
            _timer?.Dispose();
            Rewrite("");
        }
    }

    private void Show()
    {
        lock (_lock)
        {
            double seconds = _clock.Elapsed.TotalSeconds, left = _now.Fraction > 0 ? seconds / _now.Fraction - seconds : double.NaN;
            Rewrite($"{_now.Fraction * 100:0} % {_now.Doing}" + (double.IsNaN(left) ? "" : $", about {Math.Ceiling(left):0} s left"));
        }
    }

    /// <summary>Writes over the line that stands there.</summary>
    private void Rewrite(string line)
    {
        if (_timer is null || (line == "" && _shown == 0))
            return;
        line = line.Length > 79 ? line[..79] : line;
        try
        {
            Console.Error.Write("\r" + Terminal.Safe(line).PadRight(_shown) + (line == "" ? "\r" : ""));
        }
        catch (IOException)
        {
            return; // nobody is there to see it
        }
        _shown = line.Length;
    }
}
