using System.Text;
using System.Xml.Linq;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>
/// The tutorial, done by the book: its commands run in an empty folder, its changes are made to the file, and its outputs
/// and pictures must be what the program gives. FRONTENDSIM_REWRITE_DOCS=1 writes them anew instead.
/// </summary>
public class TutorialTests
{
    private static readonly string Page = Path.Combine(Repository.Root, "docs/tutorial.md");
    private static readonly string Pictures = Path.Combine(Repository.Root, "docs/images/tutorial");
    private static bool Rewrites => Environment.GetEnvironmentVariable("FRONTENDSIM_REWRITE_DOCS") == "1";

    [Fact]
    public void The_tutorial_shows_what_the_program_gives()
    {
        using var scratch = new Scratch();
        string before = File.ReadAllText(Page);
        string after = Followed(before, scratch.Folder);
        if (Rewrites)
        {
            File.WriteAllText(Page, after);
            Directory.CreateDirectory(Pictures);
            foreach (string picture in Directory.GetFiles(scratch.Folder, "*.svg"))
                File.Copy(picture, Path.Combine(Pictures, Path.GetFileName(picture)), overwrite: true);
        }
        else
        {
            Assert.Equal(before, after);
            string[] drawn = Directory.GetFiles(scratch.Folder, "*.svg");
            Assert.Equal(2, drawn.Length);
            // The words of a picture: titles, units, ticks, values. Where the lines lie follows from the same numbers.
            foreach (string picture in drawn)
                Assert.Equal(Words(picture), Words(Path.Combine(Pictures, Path.GetFileName(picture))));
        }
        Assert.True(File.Exists(Path.Combine(scratch.Folder, "hive.html")));
    }

    [Fact]
    public void Every_picture_of_the_tutorial_is_there() =>
        Assert.All(File.ReadLines(Page).Where(l => l.StartsWith("![", StringComparison.Ordinal)),
            l => Assert.True(File.Exists(Path.Combine(Repository.Root, "docs", l[(l.LastIndexOf('(') + 1)..^1])), l));

    /// <summary>The page with the outputs that its commands give when followed in a folder.</summary>
    private static string Followed(string page, string folder)
    {
        var text = new StringBuilder();
        string[] lines = page.Split('\n');
        for (int k = 0; k < lines.Length; k++)
        {
            text.Append(lines[k]).Append(k < lines.Length - 1 ? "\n" : "");
            if (lines[k] is not ("```console" or "```diff"))
                continue;
            int end = Array.IndexOf(lines, "```", k + 1);
            string[] block = lines[(k + 1)..end];
            if (lines[k] == "```diff")
            {
                Change(Path.Combine(folder, "hive.fes"), block);
                text.Append(string.Concat(block.Select(l => l + "\n")));
            }
            else
                text.Append(block[0]).Append('\n').Append(Run(block[0], folder));
            k = end - 1;
        }
        return text.ToString();
    }

    private static string Run(string command, string folder)
    {
        Assert.StartsWith("$ frontendsim ", command);
        string[] words = [.. command.Split('"').SelectMany((part, k) => k % 2 == 1 ? [part]
            : part.Split(' ', StringSplitOptions.RemoveEmptyEntries))];
        var outcome = Frontendsim.RunIn(folder, words[2..]);
        Assert.Equal("", outcome.Error);
        Assert.InRange(outcome.ExitCode, 0, 1); // a requirement that does not hold is part of the story
        return outcome.Output;
    }

    /// <summary>Makes a change: lines that begin with a space or "-" must be there, those with "-" go, those with "+" come.</summary>
    private static void Change(string file, string[] diff)
    {
        string text = File.ReadAllText(file);
        string old = Lines(' ', '-'), changed = Lines(' ', '+');
        if (old == "")
            File.WriteAllText(file, text + changed);
        else
        {
            Assert.Equal(2, text.Split(old).Length);
            File.WriteAllText(file, text.Replace(old, changed));
        }

        string Lines(params char[] signs) => string.Concat(diff.Where(l => signs.Contains(l[0])).Select(l => l[1..] + "\n"));
    }

    /// <summary>The words of a picture, in the order drawn.</summary>
    internal static string[] Words(string svg) => [.. XDocument.Load(svg).Descendants().Where(e => e.Name.LocalName == "text")
        .Select(e => e.Value)];
}
