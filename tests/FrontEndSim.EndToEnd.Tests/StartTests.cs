using FrontEndSim.Cli;
using FrontEndSim.Cli.Verbs;

namespace FrontEndSim.EndToEnd.Tests;

public class StartTests
{
    [Theory]
    [InlineData]
    [InlineData("--sensor", "0.5 V .. 4.5 V", "--pin", "3.3 V", "--bits", "10")]
    [InlineData("--sensor", "0 V .. 10 V", "--supply", "15 V", "--fault", "-60 V")]
    [InlineData("--sensor", "-50 mV .. 50 mV", "--pin", "5 V", "--source", "1 kohm")]
    public void Check_passes_a_starter_circuit_at_once(params string[] options)
    {
        using var scratch = new Scratch();
        string file = scratch.Path("tank.fes");

        var start = Frontendsim.Run(["start", file, .. options]);
        Assert.True(start.ExitCode == 0, start.Error);
        var check = Frontendsim.Run("check", file);

        Assert.Equal("", check.Error);
        Assert.True(check.ExitCode == 0, check.Output);
        Assert.Contains("All 3 requirements are met", check.Output);
    }

    [Fact]
    public void Start_never_writes_over_a_file()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("tank.fes");
        File.WriteAllText(file, "mine");

        var start = Frontendsim.Run("start", file);

        Assert.Equal(2, start.ExitCode);
        Assert.Contains("exists already", start.Error);
        Assert.Equal("mine", File.ReadAllText(file));
    }

    [Fact]
    public void A_target_that_the_op_amps_cannot_fulfil_writes_nothing_and_says_why()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("tank.fes");

        var start = Frontendsim.Run("start", file, "--supply", "5 V", "--sensor", "-10 V .. 10 V");

        Assert.Equal(2, start.ExitCode);
        Assert.Contains("headroom", start.Error);
        Assert.False(File.Exists(file));
    }

    [Fact]
    public void A_wrong_unit_is_an_error_and_not_a_guess()
    {
        using var scratch = new Scratch();
        var start = Frontendsim.Run("start", scratch.Path("tank.fes"), "--pin", "3.3 ohm");
        Assert.Equal(2, start.ExitCode);
        Assert.Contains("--pin", start.Error);
    }

    private static readonly Starter Usual = new(new(-1.2, 1.8), 220, 3.3, 12, 9, 24);

    [Fact]
    public void Answers_at_the_terminal_become_a_circuit_that_check_passes()
    {
        using var scratch = new Scratch();
        var console = new TypedConsole("0.5 V .. 4.5 V", "1 kohm", "3.3 V", "10", "", "-30 V");
        string text = StartVerb.Asked(console.Endable, Usual, "tank", "tank.fes", TestContext.Current.CancellationToken);
        string file = scratch.Write("tank.fes", text);

        Assert.Contains("span   500 mV .. 4.5 V", text);
        Assert.Contains("source 1 kohm", text);
        Assert.Contains("converts 10 bits", text);
        Assert.Contains("rail VP   9 V", text);
        Assert.Contains("step to -30 V", text);
        Assert.Equal(0, Frontendsim.Run("check", file).ExitCode);
    }

    [Fact]
    public void A_wrong_answer_is_explained_and_asked_for_again()
    {
        var console = new TypedConsole("-1 ohm .. 1 V", "-1 V .. 1 V", "5 V", "220 ohm", "-5 V", "5 V", "99", "12", "", "");
        string text = StartVerb.Asked(console.Endable, Usual, "tank", "tank.fes", TestContext.Current.CancellationToken);

        Assert.Contains("span   -1 V .. 1 V", text);
        Assert.Contains("rail VDD  5 V", text);
        Assert.Equal(2, Count(console.Shown, "Sensor's lowest and highest voltage"));
        Assert.Equal(2, Count(console.Shown, "Sensor's source resistance"));
        Assert.Equal(2, Count(console.Shown, "Supply and full scale of the pin"));
        Assert.Equal(2, Count(console.Shown, "Resolution of the converter"));
        Assert.Equal(1, Count(console.Shown, "Supply of the op amps"));
        Assert.Contains("a resistance is needed here", console.Shown);
        Assert.Contains("a voltage above 0 V", console.Shown);
        Assert.Contains("a whole number from 1 to 32", console.Shown);
    }

    [Fact]
    public void Answers_of_which_no_circuit_comes_stand_in_brackets_when_asked_again()
    {
        // 5 V is too little to bring out 10 V; the second time round only the supply is answered anew.
        var console = new TypedConsole("0 V .. 10 V", "", "", "", "5 V", "", "", "", "", "", "15 V", "");
        string text = StartVerb.Asked(console.Endable, Usual, "tank", "tank.fes", TestContext.Current.CancellationToken);

        Assert.Contains("rail VP   15 V", text);
        Assert.Contains("span   0 V .. 10 V", text);
        Assert.Contains("headroom", console.Shown);
        Assert.Contains("(0 V .. 10 V)", console.Shown);
    }

    [Fact]
    public void Input_that_ends_before_the_last_answer_makes_no_circuit() => Assert.ThrowsAny<OperationCanceledException>(() =>
        StartVerb.Asked(new TypedConsole("-1 V .. 1 V", "").Endable, Usual, "tank", "tank.fes", TestContext.Current.CancellationToken));

    [Theory]
    [InlineData("\u0003")] // Ctrl-C
    [InlineData("\u0004")] // Ctrl-D
    public async Task Ctrl_C_or_Ctrl_D_at_a_question_writes_nothing_and_ends_with_130(string key)
    {
        using var scratch = new Scratch();
        using var terminal = PseudoTerminal.Start(scratch.Folder, ["start", "tank"]);
        await terminal.Until("Sensor's lowest and highest voltage");
        await terminal.Type("-1 V .. 1 V\r");
        await terminal.Until("Sensor's source resistance");
        await terminal.Type(key);

        Assert.Equal(130, await terminal.ExitCode());
        Assert.Contains("frontendsim: stopped", terminal.Shown);
        Assert.Empty(scratch.Files());
    }

    [Fact]
    public async Task At_a_real_terminal_answers_become_a_file()
    {
        using var scratch = new Scratch();
        using var terminal = PseudoTerminal.Start(scratch.Folder, ["start", "tank"]);
        foreach (string question in (string[])["lowest and highest", "source resistance", "full scale", "Resolution",
            "either side of ground", "by mistake"])
        {
            await terminal.Until(question);
            await terminal.Type("\r");
        }
        Assert.Equal(0, await terminal.ExitCode());
        Assert.Equal(["tank.fes"], scratch.Files());
        Assert.Equal(0, Frontendsim.Run("check", scratch.Path("tank.fes")).ExitCode);
    }

    private static int Count(string text, string words) => text.Split(words).Length - 1;
}
