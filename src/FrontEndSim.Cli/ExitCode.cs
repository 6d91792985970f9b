using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Cli;

/// <summary>What the program ends with; scripts rely on it (docs/output.md).</summary>
internal static class ExitCode
{
    /// <summary>All requirements are met, or the verb judges none.</summary>
    public const int Met = 0;

    /// <summary>A requirement is not met.</summary>
    public const int NotMet = 1;

    /// <summary>The command line, the circuit file or a file to write is wrong.</summary>
    public const int BadInput = 2;

    /// <summary>The circuit is well formed, and something that was asked for could not be computed.</summary>
    public const int NoSolution = 3;

    /// <summary>The program itself is wrong.</summary>
    public const int Internal = 4;

    /// <summary>Stopped from the keyboard: 128 and the number of the signal, as shells count.</summary>
    public const int Stopped = 130;

    /// <summary>What a check ends with.</summary>
    public static int Of(Verdict verdict) => verdict switch
    {
        Verdict.Met => Met,
        Verdict.NotMet => NotMet,
        _ => NoSolution,
    };

    /// <summary>The gravest of several files' codes: 4, 2, 1, 3, 0.</summary>
    public static int Gravest(IEnumerable<int> codes)
    {
        int[] all = [.. codes];
        return new[] { Internal, BadInput, NotMet, NoSolution }.FirstOrDefault(all.Contains, Met);
    }
}
