namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The same question has the same answer, to the byte, however many cores work at it.</summary>
public class WorkersTests
{
    private static readonly string[] Workers = ["1", "2", "4"];
    private static readonly string[] Verbs =
        ["check", "bias", "sweep", "events", "faults", "explain", "budget", "respond", "design", "build"];

    public static TheoryData<string> Circuits =>
        [.. Directory.GetFiles(Path.Combine(Repository.Root, "circuits"), "*.fes").Select(f => Path.GetFileName(f)!)
            .Order(StringComparer.Ordinal)];

    [Theory]
    [InlineData("build", "logic-input.fes")]
    [InlineData("budget", "rain-tank.fes")]
    [InlineData("faults", "greenhouse-probe.fes")]
    public void Trials_and_faults_are_the_same_to_the_byte_on_one_core_and_on_several(string verb, string circuit) =>
        Compare(verb, circuit);

    [Theory, MemberData(nameof(Circuits))]
    public void Every_verb_answers_the_same_to_the_byte_on_one_core_and_on_several(string circuit)
    {
        Assert.SkipUnless(Frontendsim.Command.Length == 1,
            "Takes minutes but with the native program (FRONTENDSIM_PROGRAM, as .ci/run sets it).");
        foreach (string verb in Verbs)
            Compare(verb, circuit);
    }

    private static void Compare(string verb, string circuit)
    {
        string[] args = [verb, Frontendsim.Circuit(circuit), "--json"];
        var outcomes = Workers.Select(n => Frontendsim.Run(args, ("DOTNET_PROCESSOR_COUNT", n))).ToArray();
        foreach (var outcome in outcomes[1..])
            Assert.Equal((verb, outcomes[0]), (verb, outcome));
    }
}
