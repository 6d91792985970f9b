namespace FrontEndSim.Cli.Verbs;

/// <summary>--points N: evenly spaced points, both ends included.</summary>
internal sealed class PointsOption : Option<int?>
{
    private const int Most = 1_000_000;

    public PointsOption(string description) : base("--points")
    {
        HelpName = "N";
        Description = description;
        CustomParser = result =>
        {
            string text = result.Tokens is [{ Value: var value }] ? value : "";
            if (int.TryParse(text, out int points) && points is >= 2 and <= Most)
                return points;
            result.AddError($"--points wants a whole number from 2 to {Most}, not '{text}'");
            return null;
        };
    }
}
