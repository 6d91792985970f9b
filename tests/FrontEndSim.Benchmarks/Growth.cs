using System.Diagnostics;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Benchmarks;

/// <summary>How time grows with the parts that conduct, the events and the draws of a front end: tables on the screen. Processor time, so
/// that other work on the machine counts little.</summary>
internal static class Growth
{
    /// <summary>Prints the tables.</summary>
    public static void Print()
    {
        // Compiled code first.
        for (int k = 0; k < 5; k++)
            CheckStudy.Run(Guarded(2, 4));
        Console.WriteLine("\n| events | clamps that conduct | `check` | memory |\n|---|---|---|---|");
        foreach (var (events, clamps) in new[] { (1, 2), (2, 2), (4, 2), (8, 2), (16, 2), (32, 2), (4, 4), (4, 8), (4, 16), (4, 32) })
        {
            var frontEnd = Guarded(events, clamps);
            var (seconds, bytes) = Take(() => CheckStudy.Run(frontEnd));
            Console.WriteLine($"| {events} | {clamps} | {1e3 * seconds:n0} ms | {bytes / 1e6:n0} MB |");
        }
        Console.WriteLine("\n| draws of `budget` | time | a draw | memory |\n|---|---|---|---|");
        foreach (int draws in new[] { 100, 1_000, 10_000, 100_000 })
        {
            var frontEnd = Guarded(0, 2);
            var (seconds, bytes) = Take(() => BudgetStudy.Run(frontEnd, "adc",
                new() { MonteCarlo = new() { BatchDraws = draws / 10, MostBatches = 10 } }));
            Console.WriteLine($"| {draws:n0} | {1e3 * seconds:n0} ms | {1e6 * seconds / draws:g2} µs | {bytes / 1e6:n0} MB |");
        }
    }

    private static (double Seconds, long Bytes) Take(Action work)
    {
        using var process = Process.GetCurrentProcess();
        double least = double.PositiveInfinity;
        long bytes = 0;
        for (int k = 0; k < 2; k++)
        {
            process.Refresh();
            double before = process.TotalProcessorTime.TotalSeconds;
            long allocated = GC.GetTotalAllocatedBytes();
            work();
            process.Refresh();
            (least, bytes) = (Math.Min(least, process.TotalProcessorTime.TotalSeconds - before), GC.GetTotalAllocatedBytes() - allocated);
        }
        return (least, bytes);
    }

    /// <summary>A pin behind a resistor with some clamps each way, and voltages put on its terminal.</summary>
    private static FrontEnd Guarded(int events, int clamps)
    {
        var text = new StringWriter();
        text.WriteLine("circuit \"growth\"\ntemperature -20 C .. 60 C\nrail VDD 3.3 V tolerance 2% load 10 mA");
        text.WriteLine("sensor probe drives IN span 0.2 V .. 3 V source 100 ohm\nresistor R1 from IN to PIN 4.7 kohm 1%");
        for (int k = 0; k < clamps / 2; k++)
            text.WriteLine($"schottky DH{k} from PIN to VDD 1N5711\nschottky DL{k} from GND to PIN 1N5711");
        text.WriteLine("pin adc at PIN\n    type converter-3v3 on VDD\n    converts 12 bits over 0 V .. VDD");
        for (int k = 0; k < events; k++)
            text.WriteLine($"event \"volts {k}\" at IN step to {5 + k} V source 10 ohm at 1 ms for 5 ms");
        text.WriteLine("require adc inside rating in every event");
        var loaded = CircuitFile.Load(new SourceFile("growth.fes", text.ToString()));
        return loaded.FrontEnd ?? throw new InvalidOperationException(string.Join("; ", loaded.Diagnostics.Select(d => d.Message)));
    }
}
