using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.LiveBench;

/// <summary>Where everything on the bench stands. Only <see cref="Text"/> goes into the file; the rest is turned back when the bench
/// ends.</summary>
internal sealed record BenchState
{
    /// <summary>The text of the circuit file, as edited.</summary>
    public required string Text { get; init; }

    /// <summary>The text as it is on the disk, as far as is known.</summary>
    public required string OnDisk { get; init; }

    /// <summary>What an editor has written meanwhile while this text has changes of its own; null where nothing has to be asked.</summary>
    public string? Conflict { get; init; }

    /// <summary>Texts to go back to.</summary>
    public ImmutableStack<string> Undo { get; init; } = [];

    /// <summary>Texts to go forward to.</summary>
    public ImmutableStack<string> Redo { get; init; } = [];

    /// <summary>What sensors that were turned measure, each in its own unit, by name.</summary>
    public ImmutableDictionary<string, double> Sensors { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>Voltages of rails that were turned, V, by name.</summary>
    public ImmutableDictionary<string, double> Rails { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>Temperature of all parts, °C, where it was turned.</summary>
    public double? Celsius { get; init; }

    /// <summary>The fault that a part, rail or sensor has; null for none.</summary>
    public SingleFault? Fault { get; init; }

    /// <summary>Name of the event that was pressed last; null for none.</summary>
    public string? Event { get; init; }

    /// <summary>Nodes whose voltage is drawn beside that of the pins and the terminal.</summary>
    public ImmutableSortedSet<string> Traced { get; init; } = ImmutableSortedSet.Create<string>(StringComparer.Ordinal);

    /// <summary>Where along the trace of the event the drawing stands, 0 to 1; null for the operating point.</summary>
    public double? Scrub { get; init; }

    /// <summary>Name of the part that is looked at; null for none.</summary>
    public string? Part { get; init; }

    /// <summary>What a meter read at nodes of the real board, each with the sensor where the knob stood.</summary>
    public ImmutableList<Reading> Readings { get; init; } = [];

    /// <summary>Something to tell the person, such as why a value cannot be changed; empty for nothing.</summary>
    public string Note { get; init; } = "";

    /// <summary>Whether the text differs from the file.</summary>
    public bool IsChanged => Text != OnDisk;

    /// <summary>The state with another text, which can be undone.</summary>
    public BenchState WithText(string text) => text == Text ? this : this with { Text = text, Undo = Undo.Push(Text), Redo = [] };

    /// <summary>The front end as it stands on the bench: rails and temperature turned, and broken as the fault says.</summary>
    public FrontEnd On(FrontEnd frontEnd)
    {
        var turned = frontEnd with
        {
            Rails = [.. frontEnd.Rails.Select(r => Rails.TryGetValue(r.Name, out double volts) ? r with { PresentVolts = volts } : r)],
            Celsius = Celsius ?? frontEnd.Celsius,
        };
        return Fault is { } fault && SingleFault.Of(frontEnd).Contains(fault) ? fault.In(turned) : turned;
    }

    /// <summary>The voltages of the sensors that the front end has.</summary>
    public Scenario Scenario(FrontEnd frontEnd) =>
        new() { SensorValue = Sensors.RemoveRange(Sensors.Keys.Except(frontEnd.Sensors.Select(s => s.Name))) };

    /// <summary>The state with no fault in the circuit.</summary>
    public BenchState Mended() => this with { Fault = null, Event = Event == Fault?.Text ? null : Event, Scrub = null };

    /// <summary>What of the bench is not as the file has it, in words; empty where all is.</summary>
    /// <param name="but">A fault that is not told: what happens is that it comes to pass.</param>
    public string Turned(string but = "") =>
        string.Join(", ", Rails.OrderBy(r => r.Key, StringComparer.Ordinal)
        .Select(r => $"{r.Key} at {Reporting.Words.Figures.Volts(r.Value)}")
        .Concat(Celsius is { } c ? [$"at {Reporting.Words.Figures.Plain(c, "°C")}"] : [])
            .Concat(Fault is { } f && f.Text != but ? [f.Text] : []));
}
