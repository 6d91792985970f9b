using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>An op amp on the two rails that a stage names.</summary>
internal static class OpAmpSupply
{
    /// <summary>The op amp as a part.</summary>
    public static OpAmpPart Part(this Supplied<OpAmpType> amp, string name, string plus, string minus, string output) =>
        new(name, plus, minus, output, amp.Positive.Name, amp.Negative.Name, amp.Type);

    /// <summary>The same, once rails in the wrong order and rails that the op amp does not work on are refused.</summary>
    /// <exception cref="StageProblemException">They are such.</exception>
    public static Supplied<OpAmpType> Checked(this Supplied<OpAmpType> amp)
    {
        var (type, positive, negative) = amp;
        double supply = positive.Volts.Value - negative.Volts.Value;
        if (!(supply > 0))
        {
            throw new StageProblemException("opamp",
                $"The first rail of an op amp is the positive one, but {positive.Name} is not above {negative.Name}.",
                $"Name {negative.Name} first, then {positive.Name}.");
        }
        return supply <= type.HighestSupplyVolts && supply >= type.LowestSupplyVolts ? amp : throw new StageProblemException("opamp",
            $"Op amps of class {type.Name} work on {V(type.LowestSupplyVolts)} to {V(type.HighestSupplyVolts)} "
            + $"between their rails, but {positive.Name} and {negative.Name} are {V(supply)} apart.",
            "Choose other rails or another class.");
    }

    /// <summary>The same for a stage whose inputs rest at ground.</summary>
    /// <exception cref="StageProblemException">Its inputs cannot.</exception>
    public static Supplied<OpAmpType> CheckedAtGround(this Supplied<OpAmpType> amp)
    {
        var (type, positive, negative) = amp.Checked();
        if (positive.Volts.Value - type.Model.CommonModeHighVolts >= 0 && negative.Volts.Value + type.Model.CommonModeLowVolts <= 0)
            return amp;
        throw new StageProblemException("opamp",
            $"The inputs of both stages rest at ground, which is outside the common-mode range of {type.Name} "
            + $"on {positive.Name} ({V(positive.Volts.Value)}) and {negative.Name} ({V(negative.Volts.Value)}).",
            "An inverting stage around ground needs a negative rail.");
    }

    private static string V(double volts) => SiText.Format(volts, "V");
}
