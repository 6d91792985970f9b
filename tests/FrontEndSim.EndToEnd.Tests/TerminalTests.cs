namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The program at a real terminal.</summary>
public class TerminalTests
{
    private const string Escape = "\u001b[";

    // So many draws that they are not done before somebody looks.
    private static readonly string[] Long = ["budget", Frontendsim.Circuit("rain-tank.fes"), "--trials", "2000000"];

    [Fact]
    public async Task What_takes_longer_than_a_second_says_how_far_it_is_and_what_time_is_left()
    {
        using var scratch = new Scratch();
        using var terminal = PseudoTerminal.Start(scratch.Folder, Long);
        await terminal.Until(" % ");
        await terminal.Until(" s left");
        await terminal.Type("\u0003");
        Assert.Equal(130, await terminal.ExitCode());
        Assert.Matches(@"\r\d+ % (contributions|corners|trials) at -?\d+ °C, about \d+ s left", terminal.Shown);
        Assert.EndsWith("frontendsim: stopped", terminal.Shown.TrimEnd());
    }

    [Fact]
    public async Task What_takes_less_than_a_second_shows_no_progress()
    {
        using var scratch = new Scratch();
        using var terminal = PseudoTerminal.Start(scratch.Folder, ["bias", scratch.Write("divider.fes", Scratch.Divider)]);
        Assert.Equal(0, await terminal.ExitCode());
        Assert.DoesNotContain(" left", terminal.Shown.Replace("left over", ""));
    }

    [Fact]
    public async Task A_terminal_gets_colour_and_still_a_word_for_every_verdict()
    {
        using var scratch = new Scratch();
        using var terminal = PseudoTerminal.Start(scratch.Folder, ["check", Frontendsim.Circuit("greenhouse-probe-unguarded.fes")],
            ("NO_COLOR", ""));
        Assert.Equal(1, await terminal.ExitCode());
        Assert.Matches("\u001b\\[[0-9;]+m", terminal.Shown);
        Assert.Contains("NOT MET", terminal.Shown);
    }

    public static TheoryData<string[], string, string> Plain => new()
    {
        { [], "NO_COLOR", "1" },
        { [], "TERM", "dumb" },
        { ["--no-color"], "LANG", "C.UTF-8" },
    };

    [Theory, MemberData(nameof(Plain))]
    public async Task No_colour_is_shown_where_none_is_wanted(string[] options, string variable, string value)
    {
        using var scratch = new Scratch();
        using var terminal = PseudoTerminal.Start(scratch.Folder,
            ["check", Frontendsim.Circuit("greenhouse-probe-unguarded.fes"), .. options], (variable, value));
        Assert.Equal(1, await terminal.ExitCode());
        Assert.DoesNotMatch("\u001b\\[[0-9;]*m", terminal.Shown);
        Assert.Contains("NOT MET", terminal.Shown);
    }

    [Fact]
    public async Task Check_while_watching_answers_again_when_the_file_is_saved_and_leaves_the_last_answer_standing_on_an_error()
    {
        using var scratch = new Scratch();
        string calm = Scratch.CalmDivider;
        string file = scratch.Write("divider.fes", calm + "\nrequire adc mapping error under 1 counts\n");
        using var terminal = PseudoTerminal.Start(scratch.Folder, ["check", file, "--watch"], ("NO_COLOR", "1"));
        await terminal.Until("The requirement is met");
        await terminal.Until("watching divider.fes");

        scratch.Write("divider.fes", calm.Replace("PIN to GND 10 kohm", "PIN to GND 11 kohm")
            + "\nrequire adc mapping error under 1 counts\n");
        await terminal.Until("NOT MET");
        await terminal.Until("watching divider.fes");

        int answered = terminal.Shown.Length;
        scratch.Write("divider.fes", calm + "\nrequire adc mapping eror under 1 counts\n");
        await terminal.Until("watching divider.fes");
        string said = terminal.Shown[answered..];
        Assert.Contains("error FES", said);
        // Nothing wipes what stands above.
        Assert.DoesNotContain(Escape + "2J", said);
        Assert.DoesNotContain(Escape + "H", said);

        await terminal.Type("\u0003");
        Assert.Equal(130, await terminal.ExitCode());
    }
}
