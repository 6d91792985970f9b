using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Adversary.Tests;

/// <summary>A circuit of some lines, and what is found of one requirement in it.</summary>
internal static class Rule
{
    public static FrontEnd FrontEndOf(string text)
    {
        var result = CircuitFile.Load(new SourceFile("rule.fes", "circuit \"rule\"\n" + text));
        Assert.True(result.FrontEnd is not null, string.Join("\n", result.Diagnostics.Select(d => d.Message)));
        return result.FrontEnd!;
    }

    public static CheckResult Check(string text) => CheckStudy.Run(FrontEndOf(text));

    public static RequirementResult Of<T>(CheckResult check) where T : Requirement =>
        check.Requirements.Concat(check.Implied).Single(r => r.Requirement is T);
}
