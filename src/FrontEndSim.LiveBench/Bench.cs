using System.Globalization;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.LiveBench;

/// <summary>
/// The one owner of what stands on the bench. What is asked changes the state; the operating point is solved at once, and what
/// takes longer beside it, until a newer change cancels it. Safe to use from several threads.
/// </summary>
internal sealed class Bench : IDisposable
{
    private static readonly TimeSpan LookAtDisk = TimeSpan.FromMilliseconds(400);

    private readonly Lock _lock = new();
    private readonly CircuitOnDisk _disk;
    private readonly List<Tab> _tabs = [];
    private readonly Dictionary<string, string> _pieces = [];
    private readonly Dictionary<string, string> _volts = [];
    private readonly Dictionary<string, Load> _loads = [];
    private readonly List<EventResult> _tried = [];
    private readonly CancellationTokenSource _end = new();

    private BenchState _state;
    private LoadResult _loaded;
    private FrontEnd? _file;          // as the last text without an error has it
    private SolvedFrontEnd? _solved;  // as it stands on the bench
    private RestOnBench? _rest;
    private EventResult? _event;
    private readonly DateTime _stamp;
    private CancellationTokenSource _judging = new(), _running = new(), _comparing = new();

    public Bench(CircuitOnDisk disk, string text)
    {
        _disk = disk;
        _stamp = Stamp();
        _state = new BenchState { Text = text, OnDisk = text };
        _loaded = Load(text);
    }

    /// <summary>Title of the circuit, or the file's name.</summary>
    public string Title => _file is { Title: not "" } file ? file.Title : _disk.Name;

    /// <summary>Solves the circuit, and begins to look at the file on the disk.</summary>
    public void Start()
    {
        lock (_lock)
            Apply(null);
        _ = Task.Run(WatchDisk);
    }

    /// <summary>Opens a tab, which is sent everything that there is to see.</summary>
    public Tab Open()
    {
        var tab = new Tab(Close);
        lock (_lock)
        {
            _tabs.Add(tab);
            tab.Add(new Change
            {
                Pieces = [.. _pieces.Select(p => new Piece(p.Key, p.Value))],
                Volts = new(_volts),
                Loads = new(_loads),
            });
        }
        return tab;
    }

    /// <summary>Does what a person asks for.</summary>
    /// <returns>Whether there is such a thing to do.</returns>
    public bool Do(Ask ask)
    {
        lock (_lock)
        {
            var before = _state;
            if (After(ask, before with { Note = "" }) is not { } after)
                return false;
            _state = after;
            Apply(before, pressed: ask.Do == "event" || ask.Do == "fault" && after.Fault is not null);
            return true;
        }
    }

    public void Dispose()
    {
        lock (_lock)
        {
            _end.Cancel();
            _tabs.ForEach(t => t.End());
        }
    }

    private LoadResult Load(string text) => CircuitFile.Load(new SourceFile(_disk.Path, text), _disk.IncludesBelow);

    private void Close(Tab tab)
    {
        lock (_lock)
            _tabs.Remove(tab);
    }

    /// <summary>The state after what is asked, or null where nobody knows of it.</summary>
    private BenchState? After(Ask ask, BenchState now)
    {
        string name = ask.Name ?? "", value = ask.Value ?? "";
        double? number = double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double n) && double.IsFinite(n)
            ? n : null;
        switch (ask.Do)
        {
            case "sensor" when number is { } volts && _file?.Sensors.Any(s => s.Name == name) == true:
                return now with { Sensors = now.Sensors.SetItem(name, volts), Scrub = null };
            case "rail" when _file?.Rails.FirstOrDefault(r => r.Name == name) is { } rail:
                return value == "nominal" ? now with { Rails = now.Rails.Remove(name), Scrub = null }
                    : number is { } level ? now with { Rails = now.Rails.SetItem(name, level), Scrub = null } : null;
            case "celsius":
                return value == "" ? now with { Celsius = null, Scrub = null } : number is >= -273 and <= 300
                    ? now with { Celsius = number, Scrub = null } : null;
            case "event" when _file?.Events.Any(e => e.Name == name) == true:
                return now with { Event = name, Scrub = null };
            case "fault":
                return name == "" ? now.Mended()
                    : _file is { } file && SingleFault.Of(file).FirstOrDefault(f => f.Text == name) is { } fault
                        ? now.Fault == fault ? now.Mended() : now with { Fault = fault, Event = name, Scrub = null } : null;
            case "trace" when _rest?.Point?.Nodes.ContainsKey(name) == true:
                return now with { Traced = now.Traced.Contains(name) ? now.Traced.Remove(name) : now.Traced.Add(name) };
            case "scrub":
                return value == "" ? now with { Scrub = null } : number is >= 0 and <= 1 ? now with { Scrub = number } : null;
            case "part":
                return name == "" || _file?.AllParts.Any(p => p.Name == name) == true ? now with { Part = name == "" ? null : name } : null;
            case "value" or "step" when _file?.AllParts.FirstOrDefault(p => p.Name == name) is { Value: { } present }:
                return Changed(now, name, present, ask.Do == "step" ? Step(present, number ?? 0) : Read(value, present));
            case "reading" when number is { } read && _rest?.Point?.Nodes.ContainsKey(name) == true
                && _file is { Sensors: [var sensor, ..] }:
                double set = now.Sensors.GetValueOrDefault(sensor.Name, sensor.Span.Middle);
                return now with
                {
                    Readings = now.Readings.RemoveAll(r => r.Node == name && r.SensorValue == set)
                    .Add(new(set, name, read, null, now.Readings.Count + 1))
                };
            case "forget":
                return now with { Readings = [] };
            case "text":
                return now.WithText(value);
            case "undo" when !now.Undo.IsEmpty:
                return now with { Text = now.Undo.Peek(), Undo = now.Undo.Pop(), Redo = now.Redo.Push(now.Text) };
            case "redo" when !now.Redo.IsEmpty:
                return now with { Text = now.Redo.Peek(), Redo = now.Redo.Pop(), Undo = now.Undo.Push(now.Text) };
            case "undo" or "redo":
                return now;
            case "save":
                return _disk.Write(now.Text) is { } problem ? now with { Note = "Not saved: " + problem }
                    : now with { OnDisk = now.Text, Conflict = null, Note = $"Saved to {_disk.Name}." };
            case "take" when now.Conflict is { } theirs:
                return now.WithText(theirs) with { OnDisk = theirs, Conflict = null };
            case "keep" when now.Conflict is { } other:
                return now with { OnDisk = other, Conflict = null };
            default:
                return null;
        }
    }

    private static (double? Value, string Problem) Read(string text, PartValue present)
    {
        var (value, problem) = QuantityReader.Read(text, present.Unit);
        return value is > 0 ? (value, "") : (null, problem?.Message ?? "A value is above zero.");
    }

    /// <summary>The next value of the series that the part's tolerance belongs to, up or down.</summary>
    private static (double? Value, string Problem) Step(PartValue present, double direction)
    {
        var series = ESeries.All.LastOrDefault(s => s.UsualTolerance >= present.Amount.Tolerance - 1e-9 && present.Amount.Tolerance > 0)
            ?? ESeries.E24;
        double value = present.Amount.Value, nudge = value * (direction > 0 ? 1.0001 : 0.9999);
        return (series.Neighbours(nudge)[direction > 0 ? 1 : 0], "");
    }

    private BenchState Changed(BenchState now, string part, PartValue present, (double? Value, string Problem) asked)
    {
        if (asked.Value is not { } value)
            return now with { Note = $"{part} is left as it is. {asked.Problem}" };
        try
        {
            return now.WithText(new CircuitText(new SourceFile(_disk.Path, now.Text))
                .WithValue(part, new Quantity(value, present.Unit)).ToString());
        }
        catch (ArgumentException e)
        {
            return now with { Note = $"{part} is left as it is. {e.Message}" };
        }
    }

    /// <summary>Solves what a change touches and sends what differs.</summary>
    private void Apply(BenchState? before, bool pressed = false)
    {
        bool text = before?.Text != _state.Text;
        if (text)
        {
            _loaded = Load(_state.Text);
            _file = _loaded.FrontEnd ?? _file;
        }
        bool circuit = text || before!.Rails != _state.Rails || before.Celsius != _state.Celsius || before.Fault != _state.Fault;
        if (circuit && _file is not null && (_loaded.FrontEnd is not null || !text))
        {
            var onBench = _state.On(_file);
            _solved = _solved?.With(onBench) ?? new SolvedFrontEnd(onBench);
            _rest = null;
        }
        var change = new Change();
        if (_solved is not null && _file is not null)
        {
            if (_rest is null || before?.Sensors != _state.Sensors)
                _rest = RestOnBench.Of(_solved.FrontEnd, _state.Scenario(_solved.FrontEnd), _rest);
            bool sensors = before?.Sensors != _state.Sensors;
            if (circuit)
                Judge();
            if (pressed || _state.Event is not null && (circuit || sensors))
                Run(pressed);
            if (text)
                Put(change, BenchPage.Drawing(_file));
            Numbers(change);
            if (circuit || sensors || before?.Scrub != _state.Scrub)
                Put(change, BenchPage.Knobs(_file, _state), BenchPage.Meters(_solved.FrontEnd, _rest, _state));
            if (before?.Readings != _state.Readings || circuit && !_state.Readings.IsEmpty)
                Compare();
            Put(change, BenchPage.Readings(_file, _rest, _state));
            if (text || before?.Fault != _state.Fault || before?.Event != _state.Event || before?.Traced != _state.Traced)
                Put(change, BenchPage.Faults(_file, _state));
            Put(change, BenchPage.Part(_file, _solved.FrontEnd, _rest, _state));
            if (before?.Scrub != _state.Scrub && _event is not null)
                Put(change, BenchPage.Scrub(_event, _state));
            if (before is not null && before.Traced != _state.Traced && _event is not null)
                Put(change, BenchPage.Trace(_event, _state));
        }
        Put(change, BenchPage.State(_disk.Name, _state, _file is null ? "" : _rest?.Problem ?? ""),
            BenchPage.FileText(_disk.Name, _state.Text, _loaded));
        Send(change);
    }

    /// <summary>The voltages of the nodes and the loads of the parts, at rest or at the instant that is scrubbed to.</summary>
    private void Numbers(Change change)
    {
        bool scrubs = _state.Scrub is not null && _event is not null;
        var volts = scrubs ? BenchPage.At(_event!, _state.Scrub!.Value) : _rest!.Volts;
        foreach (var (node, text) in volts)
        {
            if (_volts.GetValueOrDefault(node) != text)
                _volts[node] = change.Volts[node] = text;
        }
        foreach (var (part, load) in scrubs ? BenchPage.Loads(_event!, _state.Scrub!.Value) : _rest!.Loads)
        {
            if (_loads.GetValueOrDefault(part) != load)
                _loads[part] = change.Loads[part] = load;
        }
    }

    /// <summary>Judges the requirements and writes the report's blocks; what an older change began is cancelled.</summary>
    private void Judge() => Begin(ref _judging, (solved, state, cancel) =>
    {
        Tell(() => [BenchPage.Working("verdict", "mapping", "hand", "budget")], cancel);
        Tell(() => [BenchPage.Problem("")], cancel);
        int? settlesTo = solved.Settled(cancel: cancel)?.Length;
        solved = solved.Settling(cancel);
        var check = CheckStudy.Run(solved, null, cancel);
        Tell(() => [.. BenchPage.Check(check, settlesTo, solved.FrontEnd, state), BenchPage.Working("hand", "budget")], cancel);
        Tell(() => [BenchPage.Hand(ExplainStudy.Run(solved, cancel: cancel))], cancel);
        List<BudgetResult> budgets = [];
        foreach (var mapping in check.Mappings.Where(m => m.Converts))
        {
            Tell(() =>
            {
                budgets.Add(BudgetStudy.Run(solved, mapping.Pin, new() { Sensor = mapping.Sensor }, cancel: cancel));
                return [BenchPage.Budgets(budgets)];
            }, cancel);
        }
        Tell(() => [BenchPage.Working()], cancel);
    });

    /// <summary>Runs what was pressed last: an event of the file through the circuit as it stands, or the fault as it comes to
    /// pass.</summary>
    private void Run(bool pressed) => Begin(ref _running, (solved, state, cancel) =>
    {
        var onBench = solved.FrontEnd;
        var sensors = state.Scenario(onBench).SensorValue;
        if (onBench.Events.FirstOrDefault(e => e.Name == state.Event) is { } fault)
            Tell(() => Ran(EventStudy.Worse(onBench, fault, sensorValue: sensors, cancel: cancel), pressed, state), cancel);
        else if (state.Fault is { } single && single.Text == state.Event && _file is { } file)
        {
            var whole = new SolvedFrontEnd((state with { Fault = null }).On(file)) { BeginsSettled = true };
            Tell(() => Ran(EventStudy.Run(whole, single.Happens(file), sensorValue: sensors, cancel: cancel), pressed, state), cancel);
        }
    });

    /// <summary>Holds what a meter read against the prediction.</summary>
    private void Compare() => Begin(ref _comparing, (solved, state, cancel) => Tell(() => [BenchPage.Compared(state.Readings.IsEmpty ? null
        : CompareStudy.Run(solved, solved.FrontEnd.Sensors[0].Name, state.Readings, cancel: cancel))], cancel));

    private void Begin(ref CancellationTokenSource older, Action<SolvedFrontEnd, BenchState, CancellationToken> work)
    {
        older.Cancel();
        older = CancellationTokenSource.CreateLinkedTokenSource(_end.Token);
        var (solved, state, cancel) = (_solved!, _state, older.Token);
        _ = Task.Run(() =>
        {
            try
            {
                work(solved, state, cancel);
            }
            catch (OperationCanceledException)
            {
                // A newer change has begun its own.
            }
            catch (Exception e) when (IsOfTheCircuit(e))
            {
                Tell(() => [BenchPage.Problem(Words(e)), BenchPage.Working()], cancel);
            }
        }, cancel);
    }

    private IEnumerable<Piece> Ran(EventResult result, bool pressed, BenchState state)
    {
        _event = result;
        if (pressed)
            _tried.Add(state.Turned(result.Event.Name) is { Length: > 0 } turned
                ? result with { Event = result.Event with { Name = $"{result.Event.Name} ({turned})" } } : result);
        return [BenchPage.Trace(result, state), BenchPage.Scrub(result, state), BenchPage.Log(_tried)];
    }

    /// <summary>Sends pieces of work that is done; what has no solution is said in their place, and the rest goes on.</summary>
    private void Tell(Func<IEnumerable<Piece>> pieces, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        Piece[] made;
        try
        {
            made = [.. pieces()];
        }
        catch (Exception e) when (IsOfTheCircuit(e))
        {
            made = [BenchPage.Problem(Words(e))];
        }
        lock (_lock)
        {
            cancel.ThrowIfCancellationRequested();
            var change = new Change();
            Put(change, made);
            Send(change);
        }
    }

    internal static bool IsOfTheCircuit(Exception e) => e is CircuitException or SolveException or StudyProblemException;

    internal static string Words(Exception e) =>
        e is CircuitException circuit ? string.Join(" ", circuit.Problems.Select(p => p.Message)) : ProblemWords.Of(Problem.Of(e));

    private void Put(Change change, params IEnumerable<Piece> pieces)
    {
        foreach (var piece in pieces)
        {
            if (_pieces.GetValueOrDefault(piece.Id) == piece.Html)
                continue;
            _pieces[piece.Id] = piece.Html;
            change.Pieces.Add(piece);
        }
    }

    private void Send(Change change)
    {
        if (!change.IsEmpty)
            _tabs.ForEach(t => t.Add(change));
    }

    /// <summary>Takes up what an editor writes; asks where the text has changes of its own.</summary>
    private async Task WatchDisk()
    {
        DateTime seen = _stamp;
        while (!_end.IsCancellationRequested)
        {
            try
            {
                await Task.Delay(LookAtDisk, _end.Token);
            }
            catch (OperationCanceledException)
            {
                return;
            }
            var stamp = Stamp();
            if (stamp == seen)
                continue;
            seen = stamp;
            var (text, problem) = _disk.Read();
            lock (_lock)
            {
                var before = _state;
                if (text is null)
                    _state =
                        _state with
                        {
                            Note =
                        $"{_disk.Name} is gone or cannot be read ({problem}). The text here is kept; Save writes it anew."
                        };
                else if (text == _state.OnDisk)
                    continue;
                else if (text == _state.Text)
                    _state = _state with { OnDisk = text, Conflict = null };
                else if (_state.IsChanged)
                    _state = _state with { Conflict = text };
                else
                    _state = _state.WithText(text) with { OnDisk = text, Note = $"{_disk.Name} was changed on the disk and is taken up." };
                Apply(before);
            }
        }
    }

    private DateTime Stamp() => File.Exists(_disk.Path) ? File.GetLastWriteTimeUtc(_disk.Path) : DateTime.MinValue;
}
