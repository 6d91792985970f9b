using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>What would keep a pin inside its ratings: which part, and which way.</summary>
internal static class PinRemedy
{
    public static string For(FrontEnd frontEnd, PinExposure exposure, FaultEvent fault, TransientResult run)
    {
        var pin = exposure.Pin;
        var series = frontEnd.AllParts.OfType<ResistorPart>()
            .Where(r => r.Nodes.Contains(pin.Node) && !r.Nodes.Contains(Circuit.Ground) && !frontEnd.Rails.Any(rail => r.Nodes.Contains(rail.Name)))
            .MinBy(r => r.Ohms.Value);
        if (exposure.SupplyMarginVolts < 0 && exposure.UpperMarginVolts is null or >= 0 && exposure.InjectionMarginAmps is null or >= 0)
            return $"Give rail {pin.ClampRail} something that takes the current: a load, a zener across it, or a regulator that can sink; or clamp the pin to ground with a zener instead.";
        bool high = exposure.UpperMarginVolts < 0
            || exposure.InjectionMarginAmps < 0 && exposure.UpperInjectionAmps > exposure.LowerInjectionAmps;
        if (series is null)
            return Unguarded(pin, fault, run, high);

        double most = Math.Max(Math.Abs(run.Current(series.Name).Maximum().Value), Math.Abs(run.Current(series.Name).Minimum().Value));
        string clamp = high ? UpperClamp(frontEnd, exposure) : LowerClamp(frontEnd, exposure);
        if (exposure.InjectionMarginAmps is null or >= 0)
            return clamp + $" {series.Name} carries {SiText.Format(most, "A", 3)} at the peak; a larger one lowers it too.";
        double ratio = Math.Max(exposure.UpperInjectionAmps, exposure.LowerInjectionAmps) / pin.InjectionAmps!.Value;
        double larger = ESeries.E12.Neighbours(series.Ohms.Value * ratio)[1];
        return $"{clamp} Or raise {series.Name} from {SiText.Format(series.Ohms.Value, "ohm")} to about {SiText.Format(larger, "ohm")}, "
            + "which brings the current through the pin's clamp to its rating.";
    }

    private static string Unguarded(Pin pin, FaultEvent fault, TransientResult run, bool high)
    {
        var at = run.Voltage(pin.Node);
        double amps = pin.InjectionAmps ?? 1e-3;
        double drive = Math.Abs(fault.Disturbance.DriveVolts ?? Math.Max(Math.Abs(at.Maximum().Value), Math.Abs(at.Minimum().Value)));
        double ohms = ESeries.E12.Neighbours(drive / amps)[1];
        string clamp = high ? "a clamp to its rail (schottky-high) or a zener" : "a Schottky diode from ground";
        return $"Nothing limits the current into pin {pin.Name}: put a pin-guard in front of it, with {clamp}; a series resistor of "
            + $"{SiText.Format(ohms, "ohm")} would hold {SiText.Format(drive, "V", 3)} to {SiText.Format(amps, "A", 3)}.";
    }

    private static string UpperClamp(FrontEnd frontEnd, PinExposure exposure)
    {
        var pin = exposure.Pin;
        var diodes = frontEnd.AllParts.OfType<DiodePart>().ToArray();
        if (diodes.FirstOrDefault(d => d.Type.Kind == DiodeKind.Zener && d.To == pin.Node) is { } zener)
            return $"{zener.Name} ({zener.Type.Name}) holds node {pin.Node} at {SiText.Format(exposure.HighestVolts, "V", 3)}: choose a lower zener voltage.";
        if (diodes.FirstOrDefault(d => d.From == pin.Node && d.To == pin.ClampRail) is { } clamp)
            return $"{clamp.Name} ({clamp.Type.Name}) drops too much, or rail {clamp.To} is lifted: choose a larger Schottky diode or a rail that can sink.";
        return $"Clamp node {pin.Node}: a Schottky diode to {pin.ClampRail ?? "the pin's supply"} (schottky-high) or a zener.";
    }

    private static string LowerClamp(FrontEnd frontEnd, PinExposure exposure)
    {
        var pin = exposure.Pin;
        var clamp = frontEnd.AllParts.OfType<DiodePart>()
            .FirstOrDefault(d => d.From == Circuit.Ground && d.To == pin.Node && d.Type.Kind == DiodeKind.Schottky);
        return clamp is null
            ? $"Nothing but a junction drop bounds node {pin.Node} below ground: add a Schottky diode from ground to it."
            : $"{clamp.Name} ({clamp.Type.Name}) drops too much below ground: choose a larger Schottky diode.";
    }
}
