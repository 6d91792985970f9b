using FrontEndSim.Cli;

namespace FrontEndSim.Adversary.Tests;

[Collection(ProgramInThisProcess.Name)]
public class VerdictTests
{
    public static TheoryData<string> Circuits => [.. Corpus.Names];

    [Theory]
    [MemberData(nameof(Circuits))]
    public async Task A_circuit_that_dies_or_misreads_is_never_met_and_its_sound_twin_is(string name)
    {
        var (code, said) = await CheckAsync(name);
        string found = Verdict(code);
        bool right = Corpus.RightVerdicts(name).Contains(found);
        if (Corpus.Open.ContainsKey(name))
            Assert.False(right, $"{name} is judged rightly now ({found}): strike it from open.txt.");
        else
            Assert.True(right, $"{name} is {found}; right is {string.Join(" or ", Corpus.RightVerdicts(name))}.\n{said}");
    }

    [Fact]
    public void The_list_of_open_circuits_names_only_circuits_that_are_there_each_with_a_reason()
    {
        Assert.All(Corpus.Open, o => Assert.Contains(o.Key, Corpus.Names));
        Assert.All(Corpus.Open, o => Assert.NotEmpty(o.Value));
    }

    [Fact]
    public void Each_circuit_says_first_what_is_wrong_and_what_verdict_is_right()
    {
        string[] verdicts = ["met", "not met", "refused", "not known"];
        foreach (string name in Corpus.Names)
        {
            Assert.StartsWith("# ", File.ReadLines(Path.Combine(Corpus.Folder, name)).First());
            bool sound = name.EndsWith(".sound.fes", StringComparison.Ordinal);
            Assert.All(Corpus.RightVerdicts(name), v => Assert.Contains(v, verdicts));
            Assert.Equal(sound, Corpus.RightVerdicts(name).Contains("met"));
            if (sound)
                Assert.Contains(name.Replace(".sound.fes", ".fes", StringComparison.Ordinal), Corpus.Names);
        }
    }

    private static string Verdict(int code) => code switch
    {
        ExitCode.Met => "met",
        ExitCode.NotMet => "not met",
        ExitCode.BadInput => "refused",
        ExitCode.NoSolution => "not known",
        _ => $"exit code {code}",
    };

    // The program's own entry, with what it says caught: a process a circuit would take ten times as long.
    private static async Task<(int Code, string Said)> CheckAsync(string name)
    {
        var (output, error) = (Console.Out, Console.Error);
        var said = new StringWriter();
        Console.SetOut(said);
        Console.SetError(said);
        try
        {
            int code = await Entry.RunAsync(["check", Path.Combine(Corpus.Folder, name)]);
            return (code, said.ToString());
        }
        finally
        {
            Console.SetOut(output);
            Console.SetError(error);
        }
    }
}
