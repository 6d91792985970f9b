using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What would keep a pin inside its ratings: which part, and which way.</summary>
internal static class PinMends
{
    public static ImmutableArray<Mend> For(FrontEnd frontEnd, PinExposure exposure, FaultEvent fault, TransientResult run)
    {
        var pin = exposure.Pin;
        if (exposure.SupplyMarginVolts < 0 && exposure.UpperMarginVolts is null or >= 0 && exposure.InjectionMarginAmps is null or >= 0)
            return [new(MendKind.LoadRail, pin.ClampRail!)];
        bool high = exposure.UpperMarginVolts < 0
            || (exposure.InjectionMarginAmps < 0 || exposure.IsInjectedTooMuch)
                && exposure.UpperInjectionAmps > exposure.LowerInjectionAmps;
        if (MendTrials.Series(frontEnd, pin.Name) is not { } series)
            return [Unguarded(pin, fault, run, high)];
        return [high ? UpperClamp(frontEnd, exposure) : LowerClamp(frontEnd, pin), new(MendKind.RaiseResistor, series.Name)];
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
        Part? Find(Role role, int end) => frontEnd.AllParts.FirstOrDefault(p =>
            p.RoleByWiring(n => n == pin.ClampRail) == role && p.Nodes[end] == pin.Node);
        if (Find(Role.Zener, 1) is { } zener && zener.NextVoltages(higher: false).Any())
            return new(MendKind.LowerZener, zener.Name) { Other = zener.ValueText, For = new(exposure.HighestVolts, Unit.Volts) };
        if (Find(Role.UpperClamp, 0) is { } clamp)
            return new(MendKind.LargerUpperClamp, clamp.Name) { Other = pin.ClampRail };
        return new(MendKind.AddUpperClamp, pin.Node) { Other = pin.ClampRail };
    }

    private static Mend LowerClamp(FrontEnd frontEnd, Pin pin) =>
        frontEnd.AllParts.FirstOrDefault(p => p.RoleByWiring(_ => false) == Role.LowerClamp && p.Nodes[1] == pin.Node) is { } clamp
            ? new(MendKind.LargerLowerClamp, clamp.Name) : new(MendKind.AddLowerClamp, pin.Node);
}
