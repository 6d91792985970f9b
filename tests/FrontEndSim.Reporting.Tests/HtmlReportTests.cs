using System.Text;
using System.Text.RegularExpressions;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds;
using FrontEndSim.Reporting.Html;

namespace FrontEndSim.Reporting.Tests;

public partial class HtmlReportTests
{
    private static readonly string Page = Write(SampleFrontEnd.Build());

    private static string Write(FrontEnd frontEnd, string text = "circuit \"x\"\n") => HtmlReport.Write(new ReportInput(
        frontEnd, CheckStudy.Run(frontEnd), BiasStudy.Run(frontEnd), [new("tank.fes", text)], "0.1.0", new SolverSettings()));

    [Fact]
    public void A_report_asks_nothing_of_the_network_and_runs_no_script()
    {
        Assert.DoesNotContain("<script", Page);
        Assert.DoesNotContain("http:", Page);
        Assert.DoesNotContain("https:", Page);
        Assert.Contains("default-src 'none'", Page);
        Assert.DoesNotMatch(new Regex("""\son[a-z]+="""), Page);
    }

    [Fact]
    public void A_report_is_smaller_than_2_MB() => Assert.InRange(Encoding.UTF8.GetByteCount(Page), 20_000, 2_000_000);

    [Fact]
    public void The_verdict_comes_before_everything_else()
    {
        int verdict = Page.IndexOf("2 of 2 requirements are not met", StringComparison.Ordinal);
        Assert.InRange(verdict, 1, Page.IndexOf("id=\"schematic\"", StringComparison.Ordinal));
    }

    [Fact]
    public void Words_of_the_circuit_file_cannot_become_markup()
    {
        string page = Write(SampleFrontEnd.Build("<script>alert(1)</script> & \"tank\""), "# </pre><script>alert(2)</script>\u0001\n");
        Assert.DoesNotContain("<script", page);
        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;tank&quot;", page);
        Assert.Contains("# &lt;/pre&gt;", page);
        Assert.DoesNotContain('\u0001', page);
    }

    [Fact]
    public void Ids_are_unique_and_every_reference_leads_to_one()
    {
        string[] ids = [.. Id().Matches(Page).Select(m => m.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        string[] wanted = [.. Reference().Matches(Page).SelectMany(m => m.Groups[1].Value.Split(' '))];
        Assert.NotEmpty(wanted);
        Assert.Empty(wanted.Except(ids));
    }

    [Fact]
    public void The_same_front_end_gives_the_same_bytes() => Assert.Equal(Page, Write(SampleFrontEnd.Build()));

    [Fact]
    public void Every_number_of_the_check_stands_in_the_report()
    {
        var check = CheckStudy.Run(SampleFrontEnd.Build());
        foreach (var requirement in check.Requirements)
        {
            Assert.Contains(requirement.Actual, Page);
            Assert.Contains(requirement.Margin, Page);
        }
        Assert.Contains(SiText.Format(check.Mappings[0].Worst.PinVolts, "V", 5), Page);
    }

    [GeneratedRegex("""\sid="([^"]+)""")]
    private static partial Regex Id();

    [GeneratedRegex("""(?:aria-labelledby="|href="#)([^"]+)""")]
    private static partial Regex Reference();
}
