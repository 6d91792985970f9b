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
            throw new StageProblemException("opamp", new(ProblemKind.RailsReversed, positive.Name, negative.Name));
        }
        return supply <= type.HighestSupplyVolts && supply >= type.LowestSupplyVolts ? amp : throw new StageProblemException("opamp",
            new(ProblemKind.SupplyOutside, type.Name, "", new(supply, Unit.Volts), new(type.LowestSupplyVolts, Unit.Volts),
                new(type.HighestSupplyVolts, Unit.Volts)));
    }

    /// <summary>The same for a stage whose inputs rest at ground.</summary>
    /// <exception cref="StageProblemException">Its inputs cannot.</exception>
    public static Supplied<OpAmpType> CheckedAtGround(this Supplied<OpAmpType> amp)
    {
        var (type, positive, negative) = amp.Checked();
        if (positive.Volts.Value - type.Model.CommonModeHighVolts >= 0 && negative.Volts.Value + type.Model.CommonModeLowVolts <= 0)
            return amp;
        throw new StageProblemException("opamp", new(ProblemKind.InputsAtGround, type.Name, "", null,
            new(negative.Volts.Value, Unit.Volts), new(positive.Volts.Value, Unit.Volts)));
    }
}
