using System.Collections;
using System.Collections.Concurrent;
using System.Globalization;
using System.Reflection;
using System.Text;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.Language.Tests;

/// <summary>Everything that a front end does, as one text: two that differ in nothing have the same.</summary>
internal static class Footprint
{
    // What is told and not done.
    private static readonly HashSet<string> Told = ["<HandMath>k__BackingField", "<Request>k__BackingField", "<Text>k__BackingField"];

    private static readonly ConcurrentDictionary<Type, FieldInfo[]> Fields = [];

    public static string Of(FrontEnd frontEnd)
    {
        var text = new StringBuilder();
        Print(frontEnd, text, 0);
        return text.ToString();
    }

    private static void Print(object? what, StringBuilder text, int depth)
    {
        switch (what)
        {
            case null or Delegate or Type or Lazy<object> or StageKind:
                text.Append('·');
                return;
            case string or bool or Enum:
                text.Append(what).Append(' ');
                return;
            case IFormattable number when what.GetType().IsPrimitive:
                text.Append(number.ToString("R", CultureInfo.InvariantCulture)).Append(' ');
                return;
            case Part part:
                // A part is what it does, not what is written in it.
                text.Append(part.Name).Append(part.Word);
                foreach (double celsius in (double[])[25, 85])
                {
                    Print(part.At(celsius).ToElements().ToArray(), text, depth + 1);
                    Print(part.Ratings(celsius), text, depth + 1);
                }
                Print(part.AtTolerance(true)?.Value, text, depth + 1);
                foreach (bool high in (bool[])[false, true])
                    Print(part.AtLimit(high)?.Part.ToElements().ToArray(), text, depth + 1);
                Print((part.WorkingSupply, part.Regulates, (part as TransmitterPart)?.AcrossVolts), text, depth + 1);
                Print(part.ErrorSources(new AssumedSpread()).ToArray(), text, depth + 1);
                text.Append(part.ThermalSeconds).Append(part.Nodes.Length).AppendJoin(',', part.Nodes);
                return;
            case IEnumerable many:
                text.Append('[');
                foreach (object? one in many)
                    Print(one, text, depth + 1);
                text.Append(']');
                return;
        }
        if (depth > 25)
            return;
        text.Append(what.GetType().Name).Append('{');
        foreach (var field in Fields.GetOrAdd(what.GetType(), FieldsOf))
            Print(field.GetValue(what), text, depth + 1);
        text.Append('}');
    }

    private static FieldInfo[] FieldsOf(Type type)
    {
        var found = new List<FieldInfo>();
        for (var t = type; t is not null && t != typeof(object); t = t.BaseType)
            found.AddRange(t.GetFields(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly)
                .Where(f => !Told.Contains(f.Name)));
        return [.. found];
    }
}
