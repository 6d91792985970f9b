namespace FrontEndSim.EndToEnd.Tests;

/// <summary>Numbers are written with a point and words are compared letter by letter, whatever country the machine is set to.</summary>
public class CultureTests
{
    private static readonly string[][] Questions =
    [
        ["check"], ["check", "--json"], ["sweep", "--csv"], ["bias", "--json"], ["explain"], ["build", "--json"], ["respond"],
    ];

    // German writes a comma into 1.5; Turkish has a capital for i of its own, so that "ID" and "id" differ.
    [Theory, InlineData("de_DE.UTF-8"), InlineData("tr_TR.UTF-8")]
    public void The_answer_is_the_same_to_the_byte_in_every_country(string locale)
    {
        Assert.SkipWhen(Frontendsim.Command.Length == 1, "The native program has no cultures in it.");
        Assert.SkipUnless(Directory.EnumerateFiles("/usr/lib", "libicuuc.so*", SearchOption.AllDirectories)
            .Any(), "No ICU library (on Debian: libicu).");
        using var scratch = new Scratch();
        // As a host that has cultures would run it.
        string settings = scratch.Write("cultures.json",
            File.ReadAllText(Path.ChangeExtension(Frontendsim.Command[1], ".runtimeconfig.json"))
            .Replace("\"System.Globalization.Invariant\": true", "\"System.Globalization.Invariant\": false", StringComparison.Ordinal));
        string circuit = Frontendsim.Circuit("student-summing.fes");
        foreach (string[] question in Questions)
        {
            string[] args = [question[0], circuit, .. question[1..]];
            Assert.Equal((string.Join(' ', question), Frontendsim.Run(args)),
                (string.Join(' ', question), Frontendsim.RunWith(settings, args, ("LC_ALL", locale), ("LANG", locale))));
        }
        // What is wrong is said in the same words, too.
        string wrong = scratch.Write("wrong.fes", "rail VIN 3,3 V\n");
        Assert.Equal(Frontendsim.Run("check", wrong), Frontendsim.RunWith(settings, ["check", wrong], ("LC_ALL", locale),
            ("LANG", locale)));
    }
}
