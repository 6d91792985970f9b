using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>A shifting stage whose op amp or resistors are still open.</summary>
public sealed class UnfinishedStage
{
    internal UnfinishedStage(StageRequest request, StatementSyntax statement)
    {
        Request = request;
        Statement = statement;
    }

    /// <summary>What is given of it: the ends, the mapping, and whatever is decided.</summary>
    public StageRequest Request { get; }

    internal StatementSyntax Statement { get; }
}
