using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What would keep a pin inside its ratings: which part, and which way.</summary>
internal static class PinMends
{
    public static ImmutableArray<Mend> For(FrontEnd frontEnd, PinExposure exposure, FaultEvent fault, TransientResult run)
    {
        var pin = exposure.Pin;
        var series = frontEnd.AllParts.OfType<ResistorPart>()
            .Where(r => r.Nodes.Contains(pin.Node) && !r.Nodes.Contains(Circuit.Ground)
                && !frontEnd.Rails.Any(rail => r.Nodes.Contains(rail.Name)))
            .MinBy(r => r.Ohms.Value);
        if (exposure.SupplyMarginVolts < 0 && exposure.UpperMarginVolts is null or >= 0 && exposure.InjectionMarginAmps is null or >= 0)
            return [new(MendKind.LoadRail, pin.ClampRail!)];
        bool high = exposure.UpperMarginVolts < 0
            || exposure.InjectionMarginAmps < 0 && exposure.UpperInjectionAmps > exposure.LowerInjectionAmps;
        if (series is null)
            return [Unguarded(pin, fault, run, high)];

        var clamp = high ? UpperClamp(frontEnd, exposure) : LowerClamp(frontEnd, exposure);
        return [clamp, new(MendKind.RaiseResistor, series.Name)];
    }

    private static Mend Unguarded(Pin pin, FaultEvent fault, TransientResult run, bool high)
    {
        var at = run.Voltage(pin.Node);
        double amps = pin.InjectionAmps ?? 1e-3;
        double drive = Math.Abs(fault.Disturbance.DriveVolts ?? Math.Max(Math.Abs(at.Maximum().Value), Math.Abs(at.Minimum().Value)));
        return new(high ? MendKind.GuardPinAbove : MendKind.GuardPinBelow, pin.Name)
        {
            To = new(ESeries.E12.Neighbours(drive / amps)[1], Unit.Ohm),
            From = new(drive, Unit.Volts),
            For = new(amps, Unit.Amps),
        };
    }

    private static Mend UpperClamp(FrontEnd frontEnd, PinExposure exposure)
    {
        var pin = exposure.Pin;
        var diodes = frontEnd.AllParts.OfType<DiodePart>().ToArray();
        if (diodes.FirstOrDefault(d => d.Type.Kind == DiodeKind.Zener && d.To == pin.Node) is { } zener)
            return new(MendKind.LowerZener, zener.Name) { Other = zener.Type.Name, For = new(exposure.HighestVolts, Unit.Volts) };
        if (diodes.FirstOrDefault(d => d.From == pin.Node && d.To == pin.ClampRail) is { } clamp)
            return new(MendKind.LargerUpperClamp, clamp.Name) { Other = clamp.To };
        return new(MendKind.AddUpperClamp, pin.Node) { Other = pin.ClampRail };
    }

    private static Mend LowerClamp(FrontEnd frontEnd, PinExposure exposure)
    {
        var pin = exposure.Pin;
        return frontEnd.AllParts.OfType<DiodePart>()
            .FirstOrDefault(d => d.From == Circuit.Ground && d.To == pin.Node && d.Type.Kind == DiodeKind.Schottky) is { } clamp
            ? new(MendKind.LargerLowerClamp, clamp.Name) : new(MendKind.AddLowerClamp, pin.Node);
    }
}
