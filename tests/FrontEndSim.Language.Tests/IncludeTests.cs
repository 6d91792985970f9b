using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public sealed class IncludeTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("fes").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private string Write(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    private const string Main = "circuit \"c\"\nsensor s drives IN span 0 V .. 1 V\nresistor R1 from IN to VDD 1k\n";

    [Fact]
    public void An_included_file_is_found_beside_the_file_that_includes_it()
    {
        Write("shared/rails.fes", "include \"more/vdd.fes\"\nlet unused = 5 V");
        Write("shared/more/vdd.fes", "rail VDD 5 V");
        var result = CircuitFile.Load(Write("main.fes", Main + "include \"shared/rails.fes\""));
        Assert.Empty(result.Diagnostics);
        Assert.Equal("VDD", Assert.Single(result.FrontEnd!.Rails).Name);
        Assert.Equal(3, result.Files.Length);
    }

    [Fact]
    public void A_file_that_is_there_to_be_included_says_so_and_names_the_files_that_do()
    {
        string rails = Write("rails.fes", "rail VDD 5 V\nsensor s drives IN span 0 V .. 1 V\npin adc at PIN rated 0 V .. VDD");
        var alone = Assert.Single(CircuitFile.Load(rails).Diagnostics);
        Assert.True(alone.IsError);
        Assert.Contains("there to be included", alone.Message);
        Assert.Contains("include \"rails.fes\"", alone.Suggestion);

        Write("main.fes", "circuit \"c\"\ninclude \"rails.fes\"\nresistor R1 from IN to PIN 1k\n");
        Write("other.fes", "circuit \"c\"\n");
        var result = CircuitFile.Load(rails);
        Assert.Equal("main.fes, which includes it", Assert.Single(result.Diagnostics).Suggestion);
        Assert.True(result.IsMeantForInclusion);
    }

    [Fact]
    public void A_file_included_twice_is_read_once()
    {
        Write("vdd.fes", "rail VDD 5 V");
        Write("a.fes", "include \"vdd.fes\"");
        Assert.Empty(CircuitFile.Load(Write("main.fes", Main + "include \"a.fes\"\ninclude \"vdd.fes\"")).Diagnostics);
    }

    [Fact]
    public void A_circle_of_includes_is_refused_where_it_closes()
    {
        Write("vdd.fes", "rail VDD 5 V\ninclude \"main.fes\"");
        var wrong = Assert.Single(CircuitFile.Load(Write("main.fes", Main + "include \"vdd.fes\"")).Diagnostics);
        Assert.Equal(("FES360", 2, 9, "vdd.fes"), (wrong.Code, wrong.Line, wrong.Column, Path.GetFileName(wrong.File)));
    }

    [Fact]
    public void A_file_that_includes_itself_is_refused() =>
        Assert.Equal("The file includes itself.", CircuitFile.Load(Write("main.fes", "circuit \"c\"\ninclude \"./main.fes\""))
            .Diagnostics.First(d => d.IsError).Message);

    [Fact]
    public void A_chain_of_a_thousand_includes_is_cut_off()
    {
        for (int i = 0; i < 150; i++)
            Write($"f{i}.fes", $"include \"f{i + 1}.fes\"");
        Assert.Contains(CircuitFile.Load(Path.Combine(_folder, "f0.fes")).Diagnostics, d => d.Code == "FES362");
    }

    [Theory]
    [InlineData("rain-tnak.fes")]
    [InlineData("rain-tank")]
    public void A_missing_file_names_its_neighbour(string given)
    {
        Write("rain-tank.fes", Main);
        var wrong = Assert.Single(CircuitFile.Load(Path.Combine(_folder, given)).Diagnostics);
        Assert.Equal(("FES102", "did you mean rain-tank.fes?"), (wrong.Code, wrong.Suggestion));
    }

    [Fact]
    public void An_error_in_an_included_file_points_into_that_file()
    {
        Write("vdd.fes", "# rails\nrail VDD 5 A");
        var wrong = Assert.Single(CircuitFile.Load(Write("main.fes", Main + "include \"vdd.fes\"")).Diagnostics);
        Assert.Equal(("vdd.fes", 2, 10, "rail VDD 5 A"), (Path.GetFileName(wrong.File), wrong.Line, wrong.Column, wrong.SourceLine));
    }

    [Fact]
    public void A_folder_is_no_circuit_file() => Assert.Equal("FES101", Assert.Single(CircuitFile.Load(_folder).Diagnostics).Code);

    [Theory]
    [InlineData(new byte[] { 0x89, 0x50, 0x4E, 0x47, 0, 1, 2 }, "FES106")]
    [InlineData(new byte[] { 0x63, 0x0A, 0x69, 0xE9, 0x0A }, "FES107")]
    [InlineData(new byte[] { 0xFF, 0xFE, 0x63, 0x00 }, "FES105")]
    [InlineData(new byte[0], "FES110")]
    public void A_file_that_is_no_UTF_8_text_gets_one_clear_error(byte[] bytes, string code)
    {
        string path = Path.Combine(_folder, "x.fes");
        File.WriteAllBytes(path, bytes);
        Assert.Equal(code, Assert.Single(CircuitFile.Load(path).Diagnostics).Code);
    }

    [Fact]
    public void The_first_byte_that_is_no_UTF_8_is_pointed_at()
    {
        var (_, problem) = SourceFile.FromBytes("x.fes", [0x63, 0x0A, 0x69, 0xE9, 0x0A]);
        Assert.Equal((2, 2), (problem!.Line, problem.Column));
    }

    [Fact]
    public void A_file_of_ten_megabytes_is_refused_unread()
    {
        string path = Path.Combine(_folder, "x.fes");
        File.WriteAllBytes(path, new byte[10_000_000]);
        Assert.Equal("FES103", Assert.Single(CircuitFile.Load(path).Diagnostics).Code);
    }

    [Fact]
    public void A_file_outside_of_the_circuits_folder_is_not_included_nor_shown()
    {
        Write("secret.txt", "root:x:0:0");
        string main = Write("circuit/main.fes", Main + "include \"../secret.txt\"");
        var wrong = CircuitFile.Load(main).Diagnostics.First(d => d.IsError);
        Assert.Equal(("FES364", "include \"../secret.txt\""), (wrong.Code, wrong.SourceLine));
    }

    [Fact]
    public void Outside_of_the_circuits_folder_nothing_is_looked_for_nor_named()
    {
        Write("missing1.fes", "rail VDD 5 V");
        string main = Write("circuit/main.fes", Main + "include \"../missing.fes\"");
        var wrong = CircuitFile.Load(main).Diagnostics.First(d => d.IsError);
        Assert.Equal("FES364", wrong.Code);
        Assert.DoesNotContain("missing1", wrong.Suggestion);
    }

    [Fact]
    public void A_folder_that_is_a_link_out_of_the_circuits_folder_is_outside_as_well()
    {
        Write("elsewhere/rails.fes", "rail VDD 5 V");
        string main = Write("circuit/main.fes", Main + "include \"more/rails.fes\"");
        Directory.CreateSymbolicLink(Path.Combine(_folder, "circuit", "more"), Path.Combine(_folder, "elsewhere"));
        Assert.Contains(CircuitFile.Load(main).Diagnostics, d => d.Code == "FES364");
        Directory.CreateSymbolicLink(Path.Combine(_folder, "same"), Path.Combine(_folder, "circuit"));
        Write("circuit/own.fes", "rail VDD 5 V");
        Write("circuit/other.fes", Main + "include \"own.fes\"");
        Assert.Empty(CircuitFile.Load(Path.Combine(_folder, "same", "other.fes")).Diagnostics);
    }

    [Fact]
    public void A_table_that_never_ends_is_read_as_far_as_a_table_goes()
    {
        if (!File.Exists("/dev/zero"))
            Assert.Skip("There is no file without an end here.");
        string main =
            Write("main.fes",
                "circuit \"c\"\nrail VDD 5 V\nsensor s of level 0 mm .. 10 mm from IN to GND\n    table \"/dev/zero\" in "
                    + "ohm\nresistor R1 from IN to VDD 1k\n");
        Assert.Contains("longer than 1 MB", CircuitFile.Load(main).Diagnostics.First(d => d.Code == "FES368").Message);
    }

    [Fact]
    public void A_file_of_another_folder_is_included_where_that_folder_is_allowed()
    {
        Write("shared/rails.fes", "rail VDD 5 V");
        string main = Write("circuit/main.fes", Main + "include \"../shared/rails.fes\"");
        Assert.Contains(CircuitFile.Load(main).Diagnostics, d => d.Code == "FES364");
        Assert.DoesNotContain(CircuitFile.Load(main, Path.Combine(_folder, "shared")).Diagnostics, d => d.Code == "FES364");
        Assert.Contains(CircuitFile.Load(main, Path.Combine(_folder, "circuit", "elsewhere")).Diagnostics, d => d.Code == "FES364");
    }

    [Fact]
    public void A_link_out_of_the_folder_is_followed_before_it_is_judged()
    {
        string secret = Write("secret.fes", "rail VDD 5 V");
        string main = Write("circuit/main.fes", Main + "include \"rails.fes\"");
        File.CreateSymbolicLink(Path.Combine(_folder, "circuit", "rails.fes"), secret);
        Assert.Contains(CircuitFile.Load(main).Diagnostics, d => d.Code == "FES364");
    }

    [Fact]
    public void A_file_without_one_readable_statement_is_named_and_not_quoted()
    {
        Write("notes.txt", "root:x:0:0\nbin:x:1:1");
        var result = CircuitFile.Load(Write("main.fes", Main + "include \"notes.txt\""));
        Assert.Contains(result.Diagnostics, d => d.Code == "FES363");
        Assert.All(result.Diagnostics, d => Assert.DoesNotContain("root", d.ToString() + d.SourceLine));
    }
}
