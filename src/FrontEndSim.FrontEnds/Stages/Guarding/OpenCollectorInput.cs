using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>Reads a contact or an open collector to ground: a pull-up that lets its current flow, a series resistor and a capacitor
/// against bounce.</summary>
internal sealed class OpenCollectorInput : StageKind
{
    // A contact that is to stay clean carries some milliamperes (common practice, no source).
    private const double UsualAmps = 2e-3;

    // Levels that any logic family with a threshold near the middle reads (common practice of CMOS inputs: 30 % and 70 %).
    private const double LowShare = 0.3, HighShare = 0.7;

    public override string Name => "open-collector-input";

    public override string Summary =>
        "Reads a contact or an open collector to ground: pull-up for its current, series resistor and capacitor against bounce.";

    /// <summary>The supply that a pull-up leads to.</summary>
    internal static Setting<Rail> PulledTo { get; } =
        Setting.Of("rail", true, "The supply that the pull-up leads to.", new RailBlank("supply"));

    private static AmountSetting Wets { get; } =
        Amount("wets", "Current of the closed contact, which the pull-up follows from; 2 mA if left out.", Unit.Amps);

    private static PartSetting PullUp { get; } = Resistor("pullup", "The pull-up itself.");

    private static PartSetting Series { get; } = Resistor("series", "Resistor to the output; 10 kohm if left out.");

    private static PartSetting Shunt { get; } = Capacitor("shunt", "Capacitor from the output to ground.");

    protected override ImmutableArray<Setting> OwnSettings { get; } = [Ends, PulledTo, Wets, PullUp, Series, Shunt];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        var rail = request.Get(PulledTo);
        double supply = rail.Volts.Value;
        if (!(supply > 0))
            throw new StageProblemException("rail", new(ProblemKind.RailNotPositive, rail.Name, "pull-up", new(supply, Unit.Volts)));
        if (request.Has(Wets) && request.Has(PullUp))
            throw new StageProblemException("wets", new(ProblemKind.Follows, "", PullUp.Name));
        var pullup = request.Toleranced(PullUp, UsualSpread.Resistor.Amount,
            ESeries.E24.Nearest(supply / request.Positive(Wets, UsualAmps)));
        var series = request.Toleranced(Series, UsualSpread.Resistor.Amount, 10e3);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new ResistorPart(name + ".Rp", rail.Name, input, pullup));
        parts.Add(new ResistorPart(name + ".R", input, output, series) { Role = Role.SeriesResistor });
        var math = ImmutableArray.CreateBuilder<HandStep>();
        string rp = ShiftHandMath.Ohms(pullup.Value), r = ShiftHandMath.Ohms(series.Value), v = ShiftHandMath.V(supply);
        math.Add(new("current of the closed contact", $"I = {rail.Name}/Rp", $"{v}/{rp}", supply / pullup.Value, "A"));
        if (request.Sensors.FirstOrDefault(s => s.Node == input && s.Output == Unit.Ohm) is { } contact)
        {
            double[] ohms = [.. new[] { contact.Span.Low, contact.Span.High }.Select(at => contact.OutputAt(at))];
            foreach (var (closed, value) in new[] { (true, ohms.Min()), (false, ohms.Max()) })
            {
                double volts = supply * (value + contact.SourceOhms) / (value + contact.SourceOhms + pullup.Value);
                math.Add(new(closed ? "output with the contact closed" : "output with the contact open", $"V = {rail.Name}·Rs/(Rp + Rs)",
                    $"{v}·{ShiftHandMath.Ohms(value)}/({rp} + {ShiftHandMath.Ohms(value)})", volts, "V")
                {
                    Measure = new VoltageMeasure(output, null, value),
                    // What is left to the guaranteed level.
                    Allowed = Math.Max(1e-6, closed ? LowShare * supply - volts : volts - HighShare * supply),
                });
                if (closed ? volts >= LowShare * supply : volts <= HighShare * supply)
                {
                    throw new StageProblemException(request.Has(PullUp) ? PullUp.Name : Wets.Name,
                        new(ProblemKind.ContactNotRead, name, closed ? "low" : "high", new(volts, Unit.Volts),
                            High: new(supply, Unit.Volts))
                        {
                            Wanted = new(value, Unit.Ohm),
                        });
                }
            }
        }
        if (request.Given(Shunt, UsualSpread.Capacitor.Amount) is { } shunt)
        {
            parts.Add(new CapacitorPart(name + ".C", output, Circuit.Ground, shunt));
            double late = -Math.Log(1 - HighShare);
            string c = SiText.Format(shunt.Value, "F");
            math.Add(new("time from closed to a high, 70 %", "t = ln(1/0.3)·(Rp + R)·C",
                $"1.204·({rp} + {r})·{c}", late * (pullup.Value + series.Value) * shunt.Value, "s"));
            math.Add(new("time from open to a low, 30 %", "t = ln(1/0.3)·R·C", $"1.204·{r}·{c}", late * series.Value * shunt.Value, "s"));
        }
        return new Stage(name, Name, [new("from", input), new("to", output)], parts.ToImmutable()) { HandMath = math.ToImmutable() };
    }
}
