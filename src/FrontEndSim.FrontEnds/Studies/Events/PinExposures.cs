using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>Reads from a transient what reaches a pin, and what would keep it from the pin.</summary>
internal static class PinExposures
{
    public static PinExposure Run(FrontEnd frontEnd, Pin pin, FaultEvent fault, TransientResult run)
    {
        var exposure = Reached(frontEnd, pin, run);
        return exposure.IsInside || !exposure.IsRated ? exposure
            : exposure with { Candidates = PinMends.For(frontEnd, exposure, fault, run) };
    }

    /// <summary>The same without what would keep it from the pin.</summary>
    public static PinExposure Reached(FrontEnd frontEnd, Pin pin, TransientResult run)
    {
        var volts = run.Voltage(pin.Node);
        var (highestAt, highest) = volts.Maximum();
        var (lowestAt, lowest) = volts.Minimum();
        var exposure = new PinExposure
        {
            Pin = pin,
            HighestVolts = highest,
            HighestAt = highestAt,
            LowestVolts = lowest,
            LowestAt = lowestAt,
        };
        double outside = 0;
        if (pin.RatedHigh is { } upper)
        {
            // Measured from the rail, so that a rail which is lifted or lost moves the rating with it.
            var above = upper.Rail is null ? volts : EventStudy.Between(run, pin.Node, upper.Rail);
            var (at, most) = above.Maximum();
            outside += above.TimeAbove(upper.Volts);
            exposure = exposure with { UpperMarginVolts = upper.Volts - most, UpperRatingVolts = volts.At(at) + (upper.Volts - most) };
        }
        if (pin.RatedLow is { } lower)
        {
            var below = lower.Rail is null ? volts : EventStudy.Between(run, pin.Node, lower.Rail);
            var (at, least) = below.Minimum();
            outside += below.TimeBelow(lower.Volts);
            exposure = exposure with { LowerMarginVolts = least - lower.Volts, LowerRatingVolts = volts.At(at) - (least - lower.Volts) };
        }
        exposure = WithSupply(exposure with { SecondsOutside = outside }, frontEnd, rail => run.Voltage(rail).Maximum().Value);
        if (pin.HasClamps)
        {
            // What one clamp brings the other may carry away: what is injected is the difference.
            var lowerClamp = run.Current(pin.LowerClamp);
            var injected = pin.ClampRail is null ? lowerClamp.Times(-1) : run.Current(pin.UpperClamp).Minus(lowerClamp);
            exposure = exposure with
            {
                UpperInjectionAmps = Lasting(injected),
                LowerInjectionAmps = Lasting(injected.Times(-1)),
                InjectionCoulombs = injected.IntegralAbove(0) + injected.Times(-1).IntegralAbove(0),
            };
            if (pin.InjectionAmps is { } rated)
                exposure = exposure with { InjectionMarginAmps = rated - exposure.InjectionAmps };
        }
        return exposure;
    }

    // A current into a pin harms by turning a parasitic thyristor on, which takes some ten nanoseconds (from memory); what is shorter a pin
    // stands by its class of charged-device discharge (ANSI/ESDA/JEDEC JS-002: amperes for a nanosecond, from memory).
    private const double ThyristorSeconds = 10e-9;

    /// <summary>The largest mean over the time that it takes to harm, A, at least 0.</summary>
    private static double Lasting(Trace amps)
    {
        double peak = amps.Maximum().Value;
        return peak <= 0 ? 0 : Math.Min(peak, amps.Running().Largest(ThyristorSeconds) / ThyristorSeconds);
    }

    /// <summary>What stands at a pin at the operating point, judged alike. Times are 0, and nothing is counted as outside for any
    /// time.</summary>
    public static PinExposure AtRest(FrontEnd frontEnd, Pin pin, OperatingPoint point)
    {
        double volts = point.Voltage(pin.Node);
        var exposure = new PinExposure { Pin = pin, HighestVolts = volts, HighestAt = 0, LowestVolts = volts, LowestAt = 0 };
        if (pin.RatedHigh?.Resolve(point.Voltage) is { } upper)
            exposure = exposure with { UpperRatingVolts = upper, UpperMarginVolts = upper - volts };
        if (pin.RatedLow?.Resolve(point.Voltage) is { } lower)
            exposure = exposure with { LowerRatingVolts = lower, LowerMarginVolts = volts - lower };
        if (pin.HasClamps)
        {
            double injected = (pin.ClampRail is null ? 0 : point.Parts[pin.UpperClamp].Amps) - point.Parts[pin.LowerClamp].Amps;
            exposure = exposure with { UpperInjectionAmps = Math.Max(0, injected), LowerInjectionAmps = Math.Max(0, -injected) };
            if (pin.InjectionAmps is { } rated)
                exposure = exposure with { InjectionMarginAmps = rated - exposure.InjectionAmps };
        }
        return WithSupply(exposure, frontEnd, point.Voltage);
    }

    private static PinExposure WithSupply(PinExposure exposure, FrontEnd frontEnd, Func<string, double> highest) =>
        frontEnd.Rails.Where(r => r.Name == exposure.Pin.ClampRail || r.Name == exposure.Pin.Converter?.Span.High.Rail)
            .MinBy(r => (r.HighestVolts - highest(r.Name)) / r.HighestVolts) is not { } rail ? exposure : exposure with
            {
                SupplyHighestVolts = highest(rail.Name),
                SupplyMarginVolts = rail.HighestVolts - highest(rail.Name),
            };
}
