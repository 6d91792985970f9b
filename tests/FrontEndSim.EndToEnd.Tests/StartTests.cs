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
        Assert.Contains("All 3 requirements hold", check.Output);
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
    public void A_wish_that_the_op_amps_cannot_fulfil_writes_nothing_and_says_why()
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
}
