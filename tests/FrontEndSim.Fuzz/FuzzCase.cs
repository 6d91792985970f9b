namespace FrontEndSim.Fuzz;

/// <summary>One input: the bytes of a circuit file and the verb that gets it; "read" stands for reading it alone, "solve" for
/// solving it alone.</summary>
internal sealed record FuzzCase(string Verb, byte[] File)
{
    /// <summary>Reads the file and prints what is wrong with it; solves nothing.</summary>
    public const string Read = "read";

    /// <summary>Reads the file and solves it, without a study or a page.</summary>
    public const string Solve = "solve";

    /// <summary>Shows the types of part that the file describes, with their fits.</summary>
    public const string Parts = "parts";

    /// <summary>Holds readings against the circuit; those of a fuzz case are its own sweep.</summary>
    private const string Compare = "compare";

    /// <summary>The verbs that take a circuit file, those that people use most several times.</summary>
    private static readonly string[] Verbs =

    [
        "check", "check", "check", "check", "bias", "sweep", "events", "faults", "budget", "respond", "explain", "build", "report",
            "design", Compare,
        Parts,
    ];

    /// <summary>The case of a number; the same seed and number give the same case.</summary>
    public static FuzzCase Of(ulong seed, long number, Seeds seeds)
    {
        var random = new Random(unchecked((int)(seed * 0x9E3779B97F4A7C15UL ^ (ulong)number * 0xD1B54A32D192ED03UL >> 17)));
        return random.NextDouble() switch
        {
            < 0.72 => new(Read, Mutation.OfTokens(seeds, random, random.Next(1, 6))),
            < 0.97 => new(Read, Mutation.OfBytes(seeds, random)),
            < 0.98 => new(Pick(random, Verbs), Mutation.OfTokens(seeds, random, 1)),
            < 0.994 => new(Pick(random, Verbs), FrontEndMaker.Make(random)),
            _ => new(random.Next(2) == 0 ? Parts : "check", DataSheetMaker.Make(random)),
        };
    }

    /// <summary>The command lines for a file at a path, one after another; output that belongs in a file goes beside it.</summary>
    public string[][] Commands(string path) => Verb switch
    {
        "report" => [[Verb, path, "--out", path + ".html"]],
        "budget" => [[Verb, path, "--trials", "1000"]],
        "sweep" => [[Verb, path, "--json", "--plot", path + ".svg"]],
        "respond" => [[Verb, path, "--plot", path + ".svg"]],
        Compare => [["sweep", path, "--csv", "--points", "5", "--out", path + ".csv"], [Verb, path, path + ".csv"]],
        Parts => [[Verb, "--from", path]],
        "check" or "events" or "bias" or "faults" => [[Verb, path, "--json"]],
        _ => [[Verb, path]],
    };

    private static string Pick(Random random, string[] of) => of[random.Next(of.Length)];
}
