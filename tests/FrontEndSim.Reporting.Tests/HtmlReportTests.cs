using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Report;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Html;
using FrontEndSim.Reporting.Pages;
using FrontEndSim.Reporting.Plots;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Tests;

public partial class HtmlReportTests
{
    // Enough draws to have something to show; how many settle a budget is tested with the study.
    private static readonly BudgetSettings Few = new() { MonteCarlo = new() { BatchDraws = 100, MostBatches = 2 } };

    private static readonly string Page = Write(SampleFrontEnd.Build());

    private static string Write(FrontEnd frontEnd, string text = "circuit \"x\"\n") =>
        HtmlReport.Write(ReportPage.Of(ReportStudy.Run(new SolvedFrontEnd(frontEnd), Few, cancel: TestContext.Current.CancellationToken),
            new ReportOrigin(frontEnd, [new("tank.fes", text)], "0.1.0", new SolverSettings())), "tank.fes");

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
        int verdict = Page.IndexOf("of 2 requirements", StringComparison.Ordinal);
        Assert.InRange(verdict, 1, Page.IndexOf("id=\"schematic\"", StringComparison.Ordinal));
    }

    [Fact]
    public void Words_of_the_circuit_file_cannot_become_markup()
    {
        string page = Write(SampleFrontEnd.Build("<script>alert(1)</script> & \"tank\"") with { Events = [], Requirements = [] },
            "# </pre><script>alert(2)</script>\u0001\n");
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
    public void The_same_front_end_gives_the_same_bytes()
    {
        // Without the event that no change mends: all the mends that are tried for it are no other words.
        var sample = SampleFrontEnd.Build();
        sample = sample with { Events = sample.Events[..1] };
        Assert.Equal(Write(sample), Write(sample));
    }

    [Fact]
    public void Every_number_of_the_check_stands_in_the_report()
    {
        var check = CheckStudy.Run(SampleFrontEnd.Build());
        foreach (var requirement in check.Requirements)
        {
            Assert.Contains(RequirementWords.Found(requirement), Page);
            Assert.Contains(RequirementWords.Margin(requirement), Page);
        }
        Assert.Contains(SiText.Format(check.Mappings[0].Worst.PinVolts, "V", 5), Page);
    }

    [Fact]
    public void The_budget_of_the_report_is_that_of_the_study()
    {
        var budget = BudgetStudy.Run(SampleFrontEnd.Build(), "adc", Few, cancel: TestContext.Current.CancellationToken);
        foreach (bool calibrated in new[] { false, true })
        {
            var worst = budget.Worst(calibrated);
            var largest = worst.Ranked.First();
            Assert.Contains($">{largest.Source}<", Page);
            Assert.Contains(SiText.Plain(Math.Abs(largest.Effect), "", 3), Page);
            Assert.Contains(SiText.Plain(worst.Drawn.Interval.High, "", 3), Page);
        }
    }

    [Fact]
    public void The_response_of_the_report_is_that_of_the_study()
    {
        var response = RespondStudy.Run(SampleFrontEnd.Build(), "adc", cancel: TestContext.Current.CancellationToken);
        Assert.Contains(SiText.Format(response.SettlingSeconds, "s", 3), Page);
        Assert.Contains($"corner {SiText.Format(response.Frequency.CornerHertz, "Hz")}", Page);
    }

    [Fact]
    public void A_frequency_axis_is_lettered_in_decades() => Assert.Matches(">1 kHz</text>", Page);

    [Theory, InlineData(2.49963, 2.49987), InlineData(0, 5), InlineData(-461_000, 3.2)]
    public void The_numbers_of_an_axis_stand_apart_from_its_words(double low, double high)
    {
        var picture = PlotSvg.Draw(new Panel("", new("time", "s"), new("pin", "V"), [new("", [0, 1], [low, high], CurveLook.Simulated)]), "p");

        var words = picture.Descendants("text").Where(t => t.Attribute("transform") is not null).Single();
        Assert.StartsWith("translate(14 ", words.Attribute("transform")!.Value);
        // The words stand upright on a line at 14 and take 4 to its right; a digit of 11 pixels is 6.8 wide at most.
        Assert.All(picture.Descendants("text").Where(t => t.Attribute("class")!.Value == "tick" && t.Attribute("text-anchor")!.Value == "end"),
            t => Assert.True(double.Parse(t.Attribute("x")!.Value, CultureInfo.InvariantCulture) - 6.8 * t.Value.Length >= 18, t.Value));
    }

    [Theory, InlineData(2.49963, 2.49987, "2.49963 V", "2.49987 V"), InlineData(1, 2, "1 V", "2 V"), InlineData(2.5, 2.5, "2.5 V", "2.5 V")]
    public void Two_values_side_by_side_can_be_told_apart(double one, double other, string oneReads, string otherReads)
    {
        int digits = Figures.Telling(one, other);

        Assert.Equal((oneReads, otherReads), (Figures.Volts(one, digits), Figures.Volts(other, digits)));
    }

    [Fact]
    public void Hand_math_stands_beside_its_simulation_with_the_difference()
    {
        var steps = ExplainStudy.Run(SampleFrontEnd.Build(), cancel: TestContext.Current.CancellationToken).Stages[0].Steps;
        Assert.Contains(SiText.Format(steps[0].Step.Result, "", 5), Page);
        Assert.Contains("<th scope=\"col\">by hand</th><th scope=\"col\">simulated</th><th scope=\"col\">difference</th>", Page);
    }

    [Fact]
    public void A_study_that_does_not_apply_has_no_section()
    {
        var sample = SampleFrontEnd.Build();
        // Nothing says where the sensor is to land, nothing is rated, and there is no stage.
        string page = Write(sample with
        {
            Stages = [],
            Requirements = [],
            Events = [],
            Pins = [new("adc", "IN")],
            Parts = [new ResistorPart("R1", "IN", "GND", 1e3)]
        });
        Assert.DoesNotContain("id=\"budget\"", page);
        Assert.DoesNotContain("id=\"faults\"", page);
        Assert.DoesNotContain("id=\"hand\"", page);
        Assert.DoesNotContain("id=\"mapping\"", page);
        Assert.DoesNotContain("id=\"events\"", page);
        Assert.Contains("id=\"response\"", page);
    }

    [Fact]
    public void A_study_that_cannot_be_made_is_named_with_its_reason()
    {
        var sample = SampleFrontEnd.Build();
        string page = Write(sample with { Events = [], Requirements = [], Pins = [.. sample.Pins, new("other", "VDD")] });
        Assert.Contains("No response of pin other: No sensor reaches pin other.", page);
    }

    [GeneratedRegex("""\sid="([^"]+)""")]
    private static partial Regex Id();

    [GeneratedRegex("""(?:aria-labelledby="|href="#)([^"]+)""")]
    private static partial Regex Reference();
}
