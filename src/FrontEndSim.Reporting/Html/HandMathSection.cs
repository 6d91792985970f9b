using System.Xml.Linq;
using FrontEndSim.FrontEnds;

namespace FrontEndSim.Reporting.Html;

/// <summary>The hand calculation of each stage that has one, in the order in which a person would write it.</summary>
internal static class HandMathSection
{
    public static XElement? Of(ReportInput input)
    {
        var stages = input.FrontEnd.Stages.Where(s => !s.HandMath.IsEmpty).ToArray();
        return stages.Length == 0 ? null : Tag.Section("hand", "Hand calculation", stages.Select(s => Tag.Table($"Stage {s.Name}: {s.Kind}",
            ["what", "formula", "with numbers", "result"],
            s.HandMath.Select(h => new object[] { h.What, h.Formula, h.Substitution, SiText.Format(h.Result, h.Unit, 5) }))));
    }
}
