using FrontEndSim.FrontEnds;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

/// <summary>What stages, disturbances and studies say as data has words.</summary>
public class ProblemWordsTests
{
    private static readonly Quantity One = Quantity.Number(1);

    [Fact]
    public void Each_reason_has_a_sentence() => Assert.All(Enum.GetValues<ProblemKind>(), kind =>
    {
        var (what, suggestion) = ProblemWords.Split(new(kind, "subject", "other", One, One, One)
        { Wanted = One, Known = ["a", "b"], Setting = "setting", Engine = "It says so." });
        Assert.Matches(@"^.+\.$", what);
        Assert.Matches(@"^(.+[.?])?$", suggestion);
    });
}
