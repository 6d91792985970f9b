using System.Globalization;
using FrontEndSim.EndToEnd.Tests;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;
using FrontEndSim.LiveBench;
using FrontEndSim.Reporting.Words;
using Microsoft.Playwright;

namespace FrontEndSim.Browser.Tests;

/// <summary>The live bench as people use it: with a mouse, with a keyboard, on a phone, in the dark.</summary>
public sealed class BenchPageTests(Chromium chromium) : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("frontendsim-bench-");
    private readonly List<string> _said = [], _asked = [];

    public static TheoryData<string> Shipped => [.. Directory.GetFiles(Path.Combine(Repository.Root, "circuits"), "*.fes")
        .Select(f => Path.GetFileName(f))
        .Where(f => f != "greenhouse-probe-surroundings.fes").Order(StringComparer.Ordinal)];

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task The_knob_is_turned_and_both_meters_read_what_sweep_says()
    {
        await using var bench = await Start("rain-tank.fes");
        var page = await Open(bench);
        var frontEnd = CircuitFile.Load(Path.Combine(Repository.Root, "circuits", "rain-tank.fes")).FrontEnd!;
        foreach (double volts in new[] { -1.2, -0.5, 0.75, 1.8 })
        {
            var sweep = SweepStudy.Run(frontEnd, "probe", [volts]);
            var point = MappingStudy.Of(new SolvedFrontEnd(frontEnd), frontEnd.Pins[0], frontEnd.Sensors[0], sweep).Points[0];
            await page.GetByLabel("Sensor probe, V").FillAsync(volts.ToString("R", CultureInfo.InvariantCulture));
            await Assertions.Expect(page.Locator(".sensor-meter .reading")).ToHaveTextAsync(Figures.Volts(volts));
            await Assertions.Expect(page.Locator(".pin-meter .reading")).ToHaveTextAsync(Figures.Volts(point.PinVolts));
            await Assertions.Expect(page.Locator(".pin-meter")).ToContainTextAsync(Figures.Whole(point.Code));
            await Assertions.Expect(page.Locator("[data-volts=LEVEL]").First)
                .ToHaveTextAsync(Figures.Volts(sweep.Points[0].Nodes["LEVEL"], 3));
        }
        // The slider follows the number.
        Assert.Equal(1.8, double.Parse(await page.Locator("#sensor-probe").InputValueAsync(), CultureInfo.InvariantCulture), 2);
        Quiet(bench);
    }

    [Theory, MemberData(nameof(Shipped))]
    public async Task Each_event_that_is_pressed_peaks_as_events_says(string circuit)
    {
        await using var bench = await Start(circuit);
        var page = await Open(bench);
        var frontEnd = CircuitFile.Load(Path.Combine(Repository.Root, "circuits", circuit)).FrontEnd!;
        foreach (var fault in frontEnd.Events)
        {
            var expected = EventStudy.Worse(frontEnd, fault);
            await page.Locator("#faults").GetByRole(AriaRole.Button, new() { Name = fault.Name, Exact = true }).ClickAsync();
            await Assertions.Expect(page.Locator("#trace-h")).ToHaveTextAsync(fault.Name, new() { Timeout = 60_000 });
            foreach (var pin in expected.Pins)
                await Assertions.Expect(page.Locator("#trace"))
                    .ToContainTextAsync($"highest {Figures.Volts(pin.HighestVolts)} at {Figures.Time(pin.HighestAt)}");
            Assert.DoesNotContain(await PageChecks.Crowded(page), w => w.StartsWith($"{fault.Name}: current", StringComparison.Ordinal));
            await Assertions.Expect(page.Locator("#log")).ToContainTextAsync(fault.Name);
        }
        Quiet(bench);
    }

    [Fact]
    public async Task The_drawing_shows_the_instant_that_is_scrubbed_to()
    {
        await using var bench = await Start("rain-tank.fes");
        var page = await Open(bench);
        await page.Locator("#faults").GetByRole(AriaRole.Button, new() { Name = "24 V put on the probe's terminal" }).ClickAsync();
        await page.Locator("#scrub").FillAsync("0.5");
        // 24 V behind 1 ohm, from 1 ms to 51 ms, against 220 ohm of the probe at 0.3 V.
        await Assertions.Expect(page.Locator("[data-volts=IN]").First).ToHaveTextAsync("23.9 V");
        await page.GetByRole(AriaRole.Button, new() { Name = "Operating point" }).ClickAsync();
        // 0.3 V behind 220 ohm on the 143 kohm of shift.R1.
        await Assertions.Expect(page.Locator("[data-volts=IN]").First).ToHaveTextAsync("300 mV");
    }

    [Fact]
    public async Task Requirements_that_take_long_stand_with_a_sign_of_work_until_they_are_of_the_changed_value()
    {
        await using var bench = await Start("thermocouple.fes");
        var page = await Open(bench);
        await Assertions.Expect(page.Locator("#working")).ToHaveTextAsync("", new() { Timeout = 120_000 });
        Assert.Equal("none", await Sign(page));
        string before = await page.Locator("#verdict").InnerHTMLAsync();
        await page.Locator("[data-part=Rs]").ClickAsync();
        await page.Locator("#part [data-do=step]").First.ClickAsync();
        await Assertions.Expect(page.Locator("#working")).ToHaveTextAsync("computing …");
        Assert.Equal(before, await page.Locator("#verdict").InnerHTMLAsync());
        Assert.Equal("\" computing …\"", await Sign(page));
        await Assertions.Expect(page.Locator("#working[data-of~=verdict]")).ToHaveCountAsync(0, new() { Timeout = 120_000 });
        Assert.Equal("none", await Sign(page));
        Quiet(bench);

        static Task<string> Sign(IPage page) =>
            page.EvaluateAsync<string>("() => getComputedStyle(document.querySelector('#verdict > h2'), '::after').content");
    }

    [Fact]
    public async Task A_part_that_has_the_focus_says_below_the_drawing_what_it_carries_and_beside_it_how_much_of_its_rating()
    {
        await using var bench = await Start("rain-tank.fes");
        var page = await Open(bench);
        await page.Locator("[data-part='shift.R1']").FocusAsync();
        // 0.3 V behind 220 ohm on the 143 kohm to the summing node: 2.09 µA.
        await Assertions.Expect(page.Locator("#carries")).ToContainTextAsync("shift.R1, resistor");
        await Assertions.Expect(page.Locator("#carries")).ToContainTextAsync("carries 2.09 µA");
        // Its class may have 36 V between its rails, and has 18 V.
        await Assertions.Expect(page.Locator("[data-load='shift.U1']")).ToHaveTextAsync("50 %");
        await page.GetByLabel("Rail VP, V").FillAsync("30");
        await Assertions.Expect(page.Locator("[data-part='shift.U1']")).ToHaveClassAsync("part beyond");
        await Assertions.Expect(page.Locator("[data-load='shift.U1']")).ToHaveTextAsync("110 %"); // 39 V of 36 V
    }

    [Fact]
    public async Task A_file_that_is_changed_deleted_or_made_read_only_while_it_is_open_is_said_on_the_page()
    {
        await using var bench = await Start("student-summing.fes");
        var page = await Open(bench);
        string path = Path.Combine(_folder.FullName, "student-summing.fes"), text = File.ReadAllText(path);
        Rewrite(text.Replace("rail VREF 2.5 V", "rail VREF 2.4 V", StringComparison.Ordinal));
        await Assertions.Expect(page.Locator("#note")).ToHaveTextAsync("student-summing.fes was changed on the disk and is taken up.");
        await Assertions.Expect(page.Locator("[data-volts=VREF]").First).ToHaveTextAsync("2.4 V");
        string mine = text.Replace("rail VREF 2.5 V", "rail VREF 2.3 V", StringComparison.Ordinal);
        await page.Locator("#text").FillAsync(mine);
        await Assertions.Expect(page.Locator("#note")).ToHaveTextAsync("Changed, not saved.");
        Rewrite(text);
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep what is here" }).ClickAsync();
        await Assertions.Expect(page.Locator("#state [role=alert]")).ToHaveCountAsync(0);
        Assert.Equal(text, File.ReadAllText(path));
        File.SetAttributes(path, FileAttributes.ReadOnly);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save student-summing.fes" }).ClickAsync();
        await Assertions.Expect(page.Locator("#note")).ToHaveTextAsync("Not saved: The file is read-only.");
        File.SetAttributes(path, FileAttributes.Normal);
        File.Delete(path);
        await Assertions.Expect(page.Locator("#note")).ToContainTextAsync("is gone or cannot be read");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save student-summing.fes" }).ClickAsync();
        await Assertions.Expect(page.Locator("#note")).ToHaveTextAsync("Saved to student-summing.fes.");
        Assert.Equal(mine, File.ReadAllText(path));
        Quiet(bench);

        void Rewrite(string now)
        {
            File.WriteAllText(path, now);
            File.SetLastWriteTimeUtc(path, File.GetLastWriteTimeUtc(path).AddSeconds(5));
        }
    }

    [Fact]
    public async Task A_value_is_changed_undone_and_saved_by_keyboard_alone_and_every_other_byte_stays()
    {
        await using var bench = await Start("rain-tank.fes");
        var page = await Open(bench);
        byte[] before = File.ReadAllBytes(Path.Combine(_folder.FullName, "rain-tank.fes"));
        await page.Locator("[data-part='guard.R']").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#part-value")).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("ArrowUp"); // E96 has 4.75 kohm above 4.7 kohm
        await Assertions.Expect(page.Locator("#text")).ToHaveValueAsync(new System.Text.RegularExpressions.Regex("series   4k75 1%"));
        await Assertions.Expect(page.Locator("#part-value")).ToHaveValueAsync("4.75 kΩ");
        await Assertions.Expect(page.Locator("#part-value")).ToBeFocusedAsync();
        await page.Locator("[data-do=undo]").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#text")).ToHaveValueAsync(new System.Text.RegularExpressions.Regex("series   4k7 1%"));
        await page.Locator("[data-do=redo]").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#text")).ToHaveValueAsync(new System.Text.RegularExpressions.Regex("series   4k75 1%"));
        Assert.Equal(before, File.ReadAllBytes(Path.Combine(_folder.FullName, "rain-tank.fes")));
        await page.Keyboard.PressAsync("Control+s");
        await Assertions.Expect(page.Locator("#note")).ToHaveTextAsync("Saved to rain-tank.fes.");
        Assert.Equal(System.Text.Encoding.UTF8.GetString(before).Replace("series   4k7 1%", "series   4k75 1%", StringComparison.Ordinal),
            File.ReadAllText(Path.Combine(_folder.FullName, "rain-tank.fes")));
        Quiet(bench);
    }

    [Fact]
    public async Task A_mistake_typed_into_the_file_is_said_with_its_place_and_what_was_meant()
    {
        await using var bench = await Start("student-summing.fes");
        var page = await Open(bench);
        string text = await page.Locator("#text").InputValueAsync();
        await page.Locator("#text").FillAsync(text.Replace("rail VREF", "ral VREF", StringComparison.Ordinal));
        await Assertions.Expect(page.Locator("#diagnostics .error").First).ToContainTextAsync("Did you mean rail?");
        await page.Locator("#diagnostics button").First.ClickAsync();
        Assert.Equal("ral",
            await page.EvaluateAsync<string>("() => "
                + "{ const t = document.getElementById('text'); return t.value.slice(t.selectionStart, t.selectionEnd); }"));
        // A right text answers at once.
        await page.Locator("#text").FillAsync(text.Replace("rail VREF 2.5 V", "rail VREF 2.4 V", StringComparison.Ordinal));
        await Assertions.Expect(page.Locator("#diagnostics")).ToContainTextAsync("No error");
        await Assertions.Expect(page.Locator("[data-volts=VREF]").First).ToHaveTextAsync("2.4 V");
        Quiet(bench);
    }

    [Fact]
    public async Task Hostile_names_and_texts_do_nothing()
    {
        const string evil = "<img src=x onerror=alert(1)><script>alert(2)</script>' onload=";
        string text = $"circuit \"{evil}\"\nrail VDD 3.3 V\nsensor s drives IN\n    span 0 V .. 3 V\nresistor R1 from IN to PIN 1k\n"
            + $"pin adc at PIN\n    converts 12 bits over 0 V .. VDD\nevent "
            + $"\"{evil}\" at IN\n    step to 24 V source 1 ohm at 1 ms\n# {evil}</textarea><script>alert(3)</script>\n";
        await using var bench = await StartWith("hostile.fes", text);
        var page = await Open(bench, p => p.Dialog += (_, d) => _said.Add(d.Message));
        await page.Locator("#faults [data-do=event]").ClickAsync();
        await Assertions.Expect(page.Locator("#trace")).ToContainTextAsync("<script>alert(2)</script>", new() { Timeout = 60_000 });
        Assert.Equal(text, await page.Locator("#text").InputValueAsync());
        Assert.Equal(0, await page.Locator("main img, main script").CountAsync());
        Quiet(bench);
    }

    [Theory, MemberData(nameof(Shipped))]
    public async Task Nothing_overlaps_is_clipped_or_ends_loose(string circuit)
    {
        await using var bench = await Start(circuit);
        var page = await Open(bench);
        await page.Locator("[data-part] .name").First.ClickAsync();
        await Assertions.Expect(page.Locator("#part-h")).ToContainTextAsync("Part ");
        await Assertions.Expect(page.Locator("#verdict .headline")).ToBeVisibleAsync(new() { Timeout = 120_000 });
        string title = await page.Locator("#circuit-t").TextContentAsync() ?? "";
        foreach (int width in (int[])[390, 1280, 1920])
        {
            await page.SetViewportSizeAsync(width, 900);
            Assert.Empty((await Loose(page)).Select(f => $"{width}: {f}"));
            Assert.DoesNotContain(await PageChecks.Crossed(page), w => w.Length > 0);
            Assert.DoesNotContain(await PageChecks.Crowded(page), w => w.StartsWith(title, StringComparison.Ordinal));
        }
    }

    private static async Task<IEnumerable<string>> Loose(IPage page) => await page.EvaluateAsync<string[]>("""
            () => {
              const found = [];
              if (document.documentElement.scrollWidth > innerWidth + 1) found.push(`the page scrolls sideways: ${document.documentElement.scrollWidth}`);
              const shown = [...document.querySelectorAll('button, input, output, label, h1, h2, .reading')].filter(e => e.getClientRects().length && !e.closest('.scroll') && !e.closest('details:not([open])'));
              for (const e of shown) {
                const b = e.getBoundingClientRect();
                if (b.left < -1 || b.right > innerWidth + 1) found.push(`beyond the edge: ${e.textContent || e.id}`);
                if (e.tagName === 'BUTTON' && e.scrollWidth > e.clientWidth + 1) found.push(`clipped: ${e.textContent}`);
              }
              shown.forEach((a, k) => shown.slice(k + 1).forEach(b => {
                if (a.contains(b) || b.contains(a)) return;
                const p = a.getBoundingClientRect(), q = b.getBoundingClientRect();
                if (p.left < q.right - 1 && q.left < p.right - 1 && p.top < q.bottom - 1 && q.top < p.bottom - 1) found.push(`${a.textContent || a.id} on ${b.textContent || b.id}`);
              }));
              const cut = [...document.querySelectorAll('svg.schematic')].flatMap(svg => {
                const frame = svg.getBoundingClientRect();
                return [...svg.querySelectorAll('text, path, rect, circle')].filter(t => {
                  const b = t.getBoundingClientRect();
                  return b.left < frame.left - 1 || b.right > frame.right + 1 || b.top < frame.top - 1 || b.bottom > frame.bottom + 1;
                }).map(t => 'cut off: ' + (t.textContent || t.getAttribute('d')));
              });
              return [...found, ...cut];
            }
            """);

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task Words_can_be_read_and_fields_have_labels(ColorScheme scheme)
    {
        await using var bench = await Start("rain-tank.fes");
        var page = await Open(bench, scheme: scheme);
        await page.Locator("[data-part='guard.R']").ClickAsync();
        await Assertions.Expect(page.Locator("#verdict .headline")).ToBeVisibleAsync(new() { Timeout = 120_000 });
        Assert.DoesNotContain(await PageChecks.Faint(page), w => !w.Contains("BUTTON", StringComparison.Ordinal));
        Assert.DoesNotContain(await PageChecks.Unlabelled(page), w => w != "drawing without a name");
    }

    [Fact]
    public async Task The_pictures_of_the_docs_are_made_where_they_are_asked_for()
    {
        if (Environment.GetEnvironmentVariable("FRONTENDSIM_PICTURES") is not { Length: > 0 } folder)
        {
            Assert.Skip("FRONTENDSIM_PICTURES names no folder for them (docs/make-pictures does).");
            return;
        }
        await using var bench = await Start("rain-tank.fes");
        foreach (var (name, width, height, scheme) in new[]
            { ("wide", 1600, 1500, ColorScheme.Light), ("narrow", 390, 1500, ColorScheme.Dark) })
        {
            var page = await Open(bench, width: width, scheme: scheme);
            await page.SetViewportSizeAsync(width, height);
            await page.Locator("[data-part='shift.R1']").FocusAsync();
            await page.Keyboard.PressAsync("Enter");
            await page.Locator("#faults").GetByRole(AriaRole.Button, new() { Name = "surge on the probe's cable" }).ClickAsync();
            await Assertions.Expect(page.Locator("#trace .plot").First).ToBeVisibleAsync(new() { Timeout = 60_000 });
            await Assertions.Expect(page.Locator("#verdict .headline")).ToBeVisibleAsync(new() { Timeout = 120_000 });
            await page.EvaluateAsync("() => { document.activeElement.blur(); scrollTo(0, 0); }");
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + ".png") });
        }
    }

    [Fact]
    public async Task Readings_of_a_real_board_are_held_against_the_prediction()
    {
        await using var bench = await Start("rain-tank.fes");
        var page = await Open(bench);
        // 1.9 V at LEVEL where 1.65 V is predicted: far outside of what 1 % resistors do.
        await page.GetByLabel("Reading at LEVEL, V").FillAsync("1.9");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#compared .headline")).ToBeVisibleAsync(new() { Timeout = 120_000 });
        await Assertions.Expect(page.Locator("#compared")).ToContainTextAsync("OUTSIDE");
        await page.GetByRole(AriaRole.Button, new() { Name = "Forget all readings" }).ClickAsync();
        await Assertions.Expect(page.Locator("#compared .headline")).ToHaveCountAsync(0);
        Quiet(bench);
    }

    /// <summary>Reports and asserts no time. FRONTENDSIM_PROGRAM names the native program to be measured, FRONTENDSIM_TIMES=all
    /// measures every shipped circuit.</summary>
    [Theory, MemberData(nameof(Timed))]
    public async Task How_long_a_knob_a_fault_and_a_changed_value_take_is_measured(string circuit)
    {
        await using var server = Frontendsim.Command.Length > 1 ? await Start(circuit) : null;
        using var native = server is null ? Frontendsim.StartInterruptible("bench", Frontendsim.Circuit(circuit), "--no-open") : null;
        string address = server?.Address.AbsoluteUri ?? "";
        while (address == "" && await native!.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken) is { } line)
            address = line.Split(' ').FirstOrDefault(w => w.StartsWith("http://", StringComparison.Ordinal)) ?? "";
        var page = await chromium.Open(address: address, bypassPolicy: false);
        await Assertions.Expect(page.Locator("#verdict .headline")).ToBeVisibleAsync(new() { Timeout = 120_000 });
        await Assertions.Expect(page.Locator("#working")).ToHaveTextAsync("", new() { Timeout = 120_000 });
        double[] knob = await Times(page, 60, "#knobs input[type=range][data-do=sensor]",
            "k => k.min * 1 + (k.max - k.min) * Math.random()",
            "document.querySelector('#meters').innerHTML");
        double[] fault = [];
        if (await page.Locator("#faults [data-do=event]").CountAsync() > 0)
            fault = await Times(page, 5, "#faults [data-do=event]", "", "document.querySelector('#log')?.innerHTML");
        double[] value = [];
        foreach (string part in await page.EvaluateAsync<string[]>(
            "() => [...document.querySelectorAll('[data-part]')].map(p => p.dataset.part)"))
        {
            await page.Locator($"[data-part='{part}'] .name").First.ClickAsync();
            await Assertions.Expect(page.Locator("#part h2")).ToHaveTextAsync($"Part {part}");
            if (await page.Locator("#part [data-do=step]").CountAsync() == 0)
                continue;
            // A part of which the verdict says nothing is passed over.
            const string Verdict = "document.querySelector('#verdict').innerHTML";
            if ((await Times(page, 1, "#part [data-do=step]", "", Verdict)).Length == 0)
                continue;
            value = await Times(page, 10, "#part [data-do=step]", "", Verdict);
            break;
        }
        TestContext.Current.TestOutputHelper?.WriteLine($"{circuit}: knob to meters and drawing {Said(knob)}; a fault's trace "
            + $"{Said(fault)}; "
            + $"every requirement after a changed value {Said(value)}");
        if (native is not null)
            Frontendsim.Interrupt(native);

        static string Said(double[] ms) => ms.Length == 0 ? "–"
            : string.Create(CultureInfo.InvariantCulture, $"median {ms[ms.Length / 2]:0.0} ms, 95 % {ms[(int)(ms.Length * 0.95)]:0.0} ms");
    }

    public static TheoryData<string> Timed => Environment.GetEnvironmentVariable("FRONTENDSIM_TIMES") == "all" ? Shipped
        : ["rain-tank.fes"];

    // Does one thing many times; a time ends when what is watched reads otherwise. What does not change within five seconds is left out:
    // the same verdict to the last digit, for example.
    private static Task<double[]> Times(IPage page, int count, string control, string position, string watched) => page.EvaluateAsync<double[]>($$"""
        async () => {
          const times = [], watch = () => {{watched}};
          for (let k = 0; k < {{count}}; k++) {
            const control = document.querySelector({{System.Text.Json.JsonSerializer.Serialize(control)}}), before = watch(), start = performance.now();
            const changed = new Promise(done => {
              const seen = new MutationObserver(() => { if (watch() !== before) { seen.disconnect(); done(true); } });
              seen.observe(document.body, { childList: true, characterData: true, attributes: true, subtree: true });
              setTimeout(() => { seen.disconnect(); done(false); }, 5000);
            });
            if ({{(position != "" ? "true" : "false")}}) {
              control.value = String(({{(position != "" ? position : "k => 0")}})(control));
              control.dispatchEvent(new Event('input', { bubbles: true }));
            } else control.click();
            if (await changed) times.push(performance.now() - start);
            await new Promise(r => setTimeout(r, 30));
          }
          return times.sort((a, b) => a - b);
        }
        """);

    private Task<BenchServer> Start(string circuit)
    {
        // Included files come along.
        foreach (string file in Directory.GetFiles(Path.Combine(Repository.Root, "circuits"), "*.fes"))
            File.Copy(file, Path.Combine(_folder.FullName, Path.GetFileName(file)), overwrite: true);
        return BenchServer.StartAsync(Path.Combine(_folder.FullName, circuit), cancel: TestContext.Current.CancellationToken);
    }

    private Task<BenchServer> StartWith(string name, string text)
    {
        string path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return BenchServer.StartAsync(path, cancel: TestContext.Current.CancellationToken);
    }

    private async Task<IPage> Open(BenchServer bench, Action<IPage>? prepare = null, int width = 1280,
        ColorScheme scheme = ColorScheme.Light)
    {
        var page = await chromium.Open(width, scheme, address: bench.Address.AbsoluteUri, bypassPolicy: false, prepare: p =>
        {
            p.Request += (_, request) => _asked.Add(request.Url);
            p.Console += (_, message) => _said.Add(message.Text);
            p.PageError += (_, error) => _said.Add(error);
            prepare?.Invoke(p);
        });
        await Assertions.Expect(page.Locator("#text")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        return page;
    }

    /// <summary>Nothing was said on the console, and nothing was asked of anybody else.</summary>
    private void Quiet(BenchServer bench)
    {
        Assert.Empty(_said);
        Assert.All(_asked, a => Assert.True(a.StartsWith(bench.Address.AbsoluteUri, StringComparison.Ordinal)
            || a.StartsWith("data:", StringComparison.Ordinal), a));
    }
}
