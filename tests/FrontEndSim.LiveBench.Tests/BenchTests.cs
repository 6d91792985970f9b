using FrontEndSim.EndToEnd.Tests;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;

namespace FrontEndSim.LiveBench.Tests;

/// <summary>What is done on the bench, and what becomes of the file.</summary>
public sealed class BenchTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("frontendsim-bench-");
    private readonly string _path;
    private readonly string _text;
    private readonly Bench _bench;
    private readonly Tab _tab;
    private readonly Dictionary<string, string> _pieces = [], _volts = [];
    private readonly Dictionary<string, Load> _loads = [];

    public BenchTests()
    {
        _path = Path.Combine(_folder.FullName, "tank.fes");
        _text = File.ReadAllText(Path.Combine(Repository.Root, "circuits", "rain-tank.fes"));
        File.WriteAllText(_path, _text);
        _bench = new Bench(new CircuitOnDisk(_path), _text);
        _bench.Start();
        _tab = _bench.Open();
    }

    public void Dispose()
    {
        _bench.Dispose();
        _folder.Delete(recursive: true);
    }

    [Theory]
    [InlineData(-1.2)]
    [InlineData(0.3)]
    [InlineData(1.05)]
    [InlineData(1.8)]
    public async Task The_meters_read_what_a_sweep_gives(double volts)
    {
        var frontEnd = CircuitFile.Load(_path).FrontEnd!;
        var sweep = SweepStudy.Run(frontEnd, "probe", [volts]);
        var expected = MappingStudy.Of(new SolvedFrontEnd(frontEnd), frontEnd.Pins[0], frontEnd.Sensors[0], sweep).Points[0];
        Assert.True(_bench.Do(new("sensor", "probe", volts.ToString("R", System.Globalization.CultureInfo.InvariantCulture))));
        string meters = await Piece("meters", p => p.Contains(Reporting.Words.Figures.Volts(volts), StringComparison.Ordinal));
        Assert.Contains($">{Reporting.Words.Figures.Volts(expected.PinVolts)}<", meters, StringComparison.Ordinal);
        Assert.Contains($">{expected.Code:0}<", meters, StringComparison.Ordinal);
        Assert.Equal(Reporting.Words.Figures.Volts(sweep.Points[0].Nodes["PIN"], 3), _volts["PIN"]);
    }

    [Fact]
    public async Task A_changed_value_is_undone_redone_and_saved_with_every_other_byte_as_it_was()
    {
        Assert.True(_bench.Do(new("value", "guard.R", "5.1 kohm")));
        await Piece("file", p => p.Contains("series   5k1", StringComparison.Ordinal));
        Assert.Equal(_text, File.ReadAllText(_path)); // never before Save
        _bench.Do(new("undo"));
        await Piece("file", p => p.Contains("series   4k7", StringComparison.Ordinal));
        _bench.Do(new("redo"));
        _bench.Do(new("save"));
        Assert.Equal(_text.Replace("series   4k7", "series   5k1", StringComparison.Ordinal), File.ReadAllText(_path));
        await Piece("state", p => p.Contains("Saved to tank.fes", StringComparison.Ordinal));
    }

    // IEC 60063: 22 nF with 10 % is of E12; 27 nF stands above it and 18 nF below.
    [Theory]
    [InlineData("1", "shunt    27n")]
    [InlineData("-1", "shunt    18n")]
    public async Task A_step_goes_to_the_next_value_of_the_series(string direction, string line)
    {
        Assert.True(_bench.Do(new("step", "guard.C", direction)));
        await Piece("file", p => p.Contains(line, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_value_that_the_stage_chooses_is_fixed_by_its_setting()
    {
        Assert.True(_bench.Do(new("value", "shift.R2", "10 kohm")));
        await Piece("file", p => p.Contains("second-input 10 kohm", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_mistake_is_shown_with_its_place_and_the_circuit_stays_as_it_was()
    {
        await Piece("verdict", p => p.Contains("requirements are met", StringComparison.Ordinal));
        _bench.Do(new("text", Value: _text.Replace("rail VP ", "ral VP ", StringComparison.Ordinal)));
        string file = await Piece("file", p => p.Contains("class=\"error\"", StringComparison.Ordinal));
        int line = 1 + Array.FindIndex(_text.Split('\n'), l => l.StartsWith("rail VP", StringComparison.Ordinal));
        Assert.Contains($"line {line}, column 1", file, StringComparison.Ordinal);
        Assert.Contains("Did you mean rail?", file, StringComparison.Ordinal);
        Assert.Equal("1.65 V", _volts["LEVEL"]);
    }

    [Fact]
    public async Task A_rail_that_is_off_and_a_part_that_is_open_change_the_drawing_and_not_the_text()
    {
        _bench.Do(new("rail", "VDD", "0"));
        await Piece("meters", p => p.Contains("With VDD at 0 V", StringComparison.Ordinal));
        // A rail that is off only delivers: the upper clamp lifts it by what its load of 10 mA at 3.3 V, 330 ohm, makes of some 10 µA.
        Assert.EndsWith(" mV", _volts["VDD"], StringComparison.Ordinal);
        _bench.Do(new("rail", "VDD", "nominal"));
        _bench.Do(new("fault", "guard.R open"));
        await Piece("meters", p => p.Contains("guard.R open", StringComparison.Ordinal));
        // 10 Mohm to ground and what the Schottky diodes leak hold the pin, far from the 1.65 V at LEVEL.
        Assert.NotEqual(_volts["LEVEL"], _volts["PIN"]);
        Assert.DoesNotContain("Changed, not saved", await Piece("state", _ => true), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_fault_that_is_pressed_comes_to_pass_is_drawn_and_stays_until_it_is_mended()
    {
        Assert.True(_bench.Do(new("fault", "guard.R open")));
        string trace = await Piece("trace", p => p.Contains("guard.R fails", StringComparison.Ordinal));
        Assert.Contains("pin adc", trace, StringComparison.Ordinal);
        await Piece("log", p => p.Contains("guard.R open", StringComparison.Ordinal));
        _bench.Do(new("fault"));
        await Piece("faults", p => !p.Contains("Mend it", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_node_that_is_chosen_is_drawn_beside_pin_and_terminal()
    {
        _bench.Do(new("event", "surge on the probe's cable"));
        await Piece("trace", p => p.Contains("node IN", StringComparison.Ordinal)
            && !p.Contains("node shift.SUM1", StringComparison.Ordinal));
        Assert.True(_bench.Do(new("trace", "shift.SUM1")));
        await Piece("trace", p => p.Contains("node shift.SUM1", StringComparison.Ordinal));
        Assert.False(_bench.Do(new("trace", "no such node")));
    }

    [Fact]
    public async Task A_part_says_what_it_carries()
    {
        await Piece("meters", _ => true);
        // 1.65 V at LEVEL over the pull-down of 10 Mohm: 165 nA through the guard's resistor.
        Assert.Contains("carries ", _loads["guard.R"].Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_an_editor_writes_is_taken_up()
    {
        Rewrite(_text.Replace("4k7", "6k8", StringComparison.Ordinal));
        await Piece("file", p => p.Contains("series   6k8", StringComparison.Ordinal));
        await Piece("state", p => p.Contains("is taken up", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("take", "series   6k8")]
    [InlineData("keep", "series   5k1")]
    public async Task Where_both_have_changed_a_person_is_asked(string choice, string line)
    {
        _bench.Do(new("value", "guard.R", "5k1"));
        Rewrite(_text.Replace("4k7", "6k8", StringComparison.Ordinal));
        await Piece("state", p => p.Contains("and here as well", StringComparison.Ordinal));
        Assert.True(_bench.Do(new(choice)));
        await Piece("file", p => p.Contains(line, StringComparison.Ordinal));
        Assert.DoesNotContain("and here as well", await Piece("state", p => !p.Contains("and here as well", StringComparison.Ordinal)),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_is_deleted_is_said_and_saved_anew()
    {
        File.Delete(_path);
        await Piece("state", p => p.Contains("is gone or cannot be read", StringComparison.Ordinal));
        _bench.Do(new("save"));
        Assert.Equal(_text, File.ReadAllText(_path));
    }

    [Fact]
    public async Task A_file_that_is_read_only_is_not_written_and_that_is_said()
    {
        File.SetAttributes(_path, FileAttributes.ReadOnly);
        _bench.Do(new("value", "guard.R", "5k1"));
        _bench.Do(new("save"));
        await Piece("state", p => p.Contains("Not saved: The file is read-only.", StringComparison.Ordinal));
        Assert.Equal(_text, File.ReadAllText(_path));
        File.SetAttributes(_path, FileAttributes.Normal);
    }

    [Fact]
    public async Task Several_tabs_see_the_same()
    {
        using var other = _bench.Open();
        _bench.Do(new("sensor", "probe", "1.05"));
        await Piece("meters", p => p.Contains("1.05 V", StringComparison.Ordinal));
        await foreach (var change in other.Changes(TestContext.Current.CancellationToken))
        {
            Assert.Contains(change.Pieces, p => p.Id == "meters" && p.Html.Contains("1.05 V", StringComparison.Ordinal));
            break;
        }
    }

    // The output of a follower whose inputs are swapped goes to a rail, though the currents balance at a perfect follower's.
    private const string Swapped = """
        rail VDD 5 V
        sensor probe drives IN
            span 0.5 V .. 4.5 V
            source 1k
        opamp U1 rail-to-rail-cmos plus OUT minus IN output OUT on VDD and GND
        resistor R1 from OUT to PIN 1k 1%
        pin adc at PIN
            converts 12 bits over 0 V .. VDD
            rated -0.3 V .. VDD + 0.3 V
        event "24 V on the probe" at IN
            step to 24 V source 1 kohm at 1 ms for 10 ms
        """;

    [Fact]
    public async Task Meters_verdict_and_traces_begin_where_an_unstable_circuit_settles_to()
    {
        await Piece("meters", _ => true);
        _bench.Do(new("text", Value: Swapped));
        var frontEnd = CircuitFile.Load(new Language.Text.SourceFile("swapped.fes", Swapped)).FrontEnd!;
        double settled = new SolvedFrontEnd(frontEnd).Settled()!.Value[0].Nodes["PIN"];
        Assert.NotInRange(settled, 0.5, 4.5);
        await Piece("meters", p => p.Contains($">{Reporting.Words.Figures.Volts(settled)}<", StringComparison.Ordinal));
        foreach (var (turned, shown) in new[] { ("0.6", "600 mV"), ("4.4", "4.4 V"), ("1.5", "1.5 V") })
        {
            _bench.Do(new("sensor", "probe", turned));
            await Piece("meters", p => p.Contains($">{shown}<", StringComparison.Ordinal)
                && p.Contains($">{Reporting.Words.Figures.Volts(settled)}<", StringComparison.Ordinal));
        }
        await Piece("verdict", p => p.Contains("does not stay where its currents balance", StringComparison.Ordinal));
        _bench.Do(new("sensor", "probe", "2.5"));
        _bench.Do(new("event", "24 V on the probe"));
        var run = EventStudy.Worse(frontEnd, frontEnd.Events[0]);
        Assert.Equal(settled, run.Transient.Start.Nodes["PIN"], 1e-3);
        await Piece("trace", p => p.Contains($"highest {Reporting.Words.Figures.Volts(run.Pins[0].HighestVolts)}",
            StringComparison.Ordinal));
    }

    // A multiplexer reads a channel only when it selects it.
    [Fact]
    public async Task A_pin_behind_a_multiplexer_is_metered_with_its_channel_selected()
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "tests", "adversary", "reading",
            "off-channel-above-the-supply.sound.fes"));
        var frontEnd = CircuitFile.Load(new Language.Text.SourceFile("mux.fes", text)).FrontEnd!;
        var pin = frontEnd.Pins.First(p => p.Channel is not null && MappingStudy.SensorOf(frontEnd, p) is not null);
        var sensor = MappingStudy.SensorOf(frontEnd, pin)!;
        var reading = new SolvedFrontEnd(frontEnd).ReadingOf(sensor.Name);
        double volts = reading.Sweep(sensor.Name, [sensor.Span.Middle]).Points[0].Nodes[pin.Node];
        await Piece("meters", _ => true);
        _bench.Do(new("text", Value: text));
        await Piece("meters", p => p.Contains($"pin {pin.Name}<", StringComparison.Ordinal)
            && p.Contains($">{Reporting.Words.Figures.Volts(volts)}<", StringComparison.Ordinal));
    }

    private void Rewrite(string text)
    {
        File.WriteAllText(_path, text);
        File.SetLastWriteTimeUtc(_path, DateTime.UtcNow.AddSeconds(5));
    }

    /// <summary>Waits until a piece of the page is as it shall be.</summary>
    private async Task<string> Piece(string id, Func<string, bool> until)
    {
        if (_pieces.TryGetValue(id, out string? there) && until(there))
            return there;
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromSeconds(60));
        try
        {
            await foreach (var change in _tab.Changes(patience.Token))
            {
                foreach (var piece in change.Pieces)
                    _pieces[piece.Id] = piece.Html;
                foreach (var (node, volts) in change.Volts)
                    _volts[node] = volts;
                foreach (var (part, load) in change.Loads)
                    _loads[part] = load;
                if (_pieces.TryGetValue(id, out there) && until(there))
                    return there;
            }
        }
        catch (OperationCanceledException)
        {
            // Said below.
        }
        Assert.Fail($"The piece {id} never came to be as it shall be: {_pieces.GetValueOrDefault(id)}");
        return "";
    }
}
