namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The README shows what the program prints and nothing else.</summary>
public class ReadmeTests
{
    private static readonly string[] Lines = File.ReadAllLines(Path.Combine(Repository.Root, "README.md"));

    [Fact]
    public void The_first_code_block_is_the_two_commands_that_set_up_and_test() => Assert.Equal(
        ["dotnet run --project src/FrontEndSim.Cli -- check circuits/rain-tank.fes", "dotnet test"], Block("```sh"));

    // The audit's last digits depend on the machine's arithmetic.
    [Fact]
    public void The_output_shown_is_that_of_the_first_command() => Assert.Equal(
        WithoutAudit(Frontendsim.Run("check", Frontendsim.Circuit("rain-tank.fes")).Output.TrimEnd().Split('\n')),
            WithoutAudit(Block("```text")));

    [Fact]
    public void The_picture_shown_is_the_one_that_the_program_draws()
    {
        using var scratch = new Scratch();
        string drawn = Path.Combine(scratch.Folder, "events.svg"),
            shown = Path.Combine(Repository.Root, "docs", "images", "rain-tank-events.svg");
        Assert.Contains("(docs/images/rain-tank-events.svg)", string.Join('\n', Lines));
        Assert.Equal(0, Frontendsim.Run("events", Frontendsim.Circuit("rain-tank.fes"), "--plot", drawn).ExitCode);
        Assert.Equal(TutorialTests.Words(shown), TutorialTests.Words(drawn));
    }

    private static IEnumerable<string> Block(string fence) => Lines.SkipWhile(l => l != fence).Skip(1).TakeWhile(l => l != "```");

    private static IEnumerable<string> WithoutAudit(IEnumerable<string> lines) => lines.Where(l => !l.StartsWith("Audit"));
}
