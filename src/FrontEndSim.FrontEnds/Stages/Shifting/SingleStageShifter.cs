using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>A non-inverting op amp whose inputs are shifted by a reference through an offset network.</summary>
internal sealed class SingleStageShifter : StageKind
{
    public override string Name => "single-stage-shifter";

    public override string Summary =>
        "Scales a sensor's span and shifts it by a reference with one non-inverting op amp and an offset network.";

    private static PartSetting Input { get; } = Resistor("input", "Resistor from the input to the plus input, R1.", "R1");

    private static PartSetting Reference { get; } = Resistor("reference",
        "Resistor from the reference, R2: to the plus input, or to the minus input if it subtracts.", "R2");

    private static PartSetting Ground { get; } = Resistor("ground", "Resistor from the plus input to ground, R3.", "R3");

    private static PartSetting Feedback { get; } = Resistor("feedback",
        "Feedback resistor, Rf; a wire if it is left out and there is no resistor at the minus input.", "Rf");

    private static PartSetting MinusGround { get; } = Resistor("minus-ground", "Resistor from the minus input to ground, Rg.", "Rg");

    /// <summary>Whether a reference is subtracted.</summary>
    internal static Setting<bool> Subtracts { get; } = Setting.Flag("subtracts",
        "The reference goes to the minus input and is subtracted; follows from the mapping if there is one.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, Maps, .. Referred, OpAmp, PreferredResistors, Input, Reference, Ground, Feedback, MinusGround, Subtracts];

    protected override Stage Assemble(StageRequest request)
    {
        var target = ShiftTarget.Read(request);
        var supplied = request.Get(OpAmp).Checked();
        var given = new Resistors<Toleranced?>(target.Given(request, Input), target.Given(request, Reference),
            target.Given(request, Ground),
            target.Given(request, Feedback), target.Given(request, MinusGround));
        if (given.R2 is not null && target.Reference is null)
            throw target.Unreferenced();

        var network = target.Mapping is null ? FromGiven(target, given, request.Has(Subtracts)) : Choose(target, given);
        target = target.Turned(reference => network.With(reference).OpAmp.Ideal());
        network = network.With(target.Reference);
        var v = network.Values;
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        string plus = name + ".PLUS", minus = v.Rf is null ? output : name + ".MINUS", ground = Circuit.Ground;
        Toleranced Of(double chosen, Toleranced? asked) => asked ?? target.Chosen(chosen);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new ResistorPart(name + ".R1", input, plus, Of(v.R1!.Value, given.R1)));
        if (v.R2 is { } r2)
            parts.Add(new ResistorPart(name + ".R2", target.Reference!.Node, network.Subtracts ? minus : plus, Of(r2, given.R2)));
        if (v.R3 is { } r3)
            parts.Add(new ResistorPart(name + ".R3", plus, ground, Of(r3, given.R3)));
        if (v.Rg is { } rg)
            parts.Add(new ResistorPart(name + ".Rg", minus, ground, Of(rg, given.Rg)));
        if (v.Rf is { } rf)
            parts.Add(new ResistorPart(name + ".Rf", output, minus, Of(rf, given.Rf)));
        var amp = supplied.Part(name + ".U1", plus, minus, output);
        parts.Add(amp);
        return target.Shifting(new(name, Name, [new("from", input), new("to", output)], parts.ToImmutable()),
            network.OpAmp, amp, HandMath(network, amp));
    }

    private static Network FromGiven(ShiftTarget target, Resistors<Toleranced?> given, bool subtracts)
    {
        if (given.R1 is null)
            throw target.Missing(Input);
        bool hasMinus = given.Rg is not null || (subtracts && given.R2 is not null);
        if (hasMinus && given.Rf is null)
            throw target.Missing(Feedback);
        return new(new(given.R1?.Value, given.R2?.Value, given.R3?.Value, hasMinus ? given.Rf?.Value : null, given.Rg?.Value),
            subtracts, target.SourceOhms, target.Reference);
    }

    /// <summary>
    /// Adding, the reference divides against the input at the plus input, and the gain behind makes up for it. Subtracting,
    /// it goes to the minus input, and the plus input is divided where the gain would be too much.
    /// </summary>
    private static Network Choose(ShiftTarget target, Resistors<Toleranced?> given)
    {
        double gain = target.Gain, share = target.ReferenceGain;
        Network Of(double r1, double? r2, double? r3, double? rf, double? rg) =>
            new(new(r1, r2, r3, rf, rg), share < 0, target.SourceOhms, target.Reference);
        var candidates = share >= 0 ? Adding(target, given, gain, share, Of) : Subtracting(target, given, gain, -share, Of);
        return target.Best(candidates, n => n.OpAmp.Ideal(), n => n.Unbalance);
    }

    private delegate Network Make(double r1, double? r2, double? r3, double? rf, double? rg);

    private static IEnumerable<Network> Adding(ShiftTarget target, Resistors<Toleranced?> given, double gain, double share, Make make)
    {
        // Noise gain: one where the plus input's network loses enough already, else what makes up for it.
        double noiseGain = Math.Max(1, gain + share);
        if (noiseGain is > 1 + 1e-9 and < 1.01)
            noiseGain = 1.1; // a gain so near one would take a resistor beyond all bounds
        double rest = 1 - (gain + share) / noiseGain;
        // The two sides are independent: each is narrowed to its best before all of one meet all of the other.
        var ahead = new List<(double R1, double? R2, double? R3)>();
        foreach (double r1 in target.Decade(given.R1, 10e3))
        {
            double total = 1 / ((r1 + target.SourceOhms) * gain / noiseGain);
            foreach (double? r2 in share == 0 ? Absent : Some(target.Near(given.R2, noiseGain / (share * total) - target.ReferenceOhms)))
            {
                foreach (double? r3 in rest < 1e-9 ? Absent : Some(target.Near(given.R3, 1 / (rest * total))))
                    ahead.Add((r1, r2, r3));
            }
        }
        double Error((double R1, double? R2, double? R3) v)
        {
            double input = 1 / (v.R1 + target.SourceOhms), reference = 1 / (v.R2 + target.ReferenceOhms)
                ?? 0, sum = input + reference + (1 / v.R3 ?? 0);
            return target.WorstError(new(noiseGain * input / sum, noiseGain * reference / sum * target.ReferenceVolts));
        }
        (double?, double?)[] behind = noiseGain < 1 + 1e-9 ? [(null, null)] : [.. MinusPairs(target, given, noiseGain)];
        foreach (var (r1, r2, r3) in ahead.OrderBy(Error).Take(MostOfASide))
        {
            foreach (var (rf, rg) in behind)
                yield return make(r1, r2, r3, rf, rg);
        }
    }

    private const int MostOfASide = 48;

    private static IEnumerable<Network> Subtracting(ShiftTarget target, Resistors<Toleranced?> given, double gain, double share, Make make)
    {
        double noiseGain = Math.Max(gain, 1 + share);
        bool divides = gain < noiseGain * (1 - 1e-9);
        var behind = from rf in target.Decade(given.Rf, 10e3)
                     from r2 in target.Near(given.R2, rf / share - target.ReferenceOhms)
                     orderby Math.Abs(Math.Log(rf / (r2 + target.ReferenceOhms) / share))
                     select (rf, r2);
        foreach (var (rf, r2) in behind.Take(MostOfASide))
        {
            double joined = r2 + target.ReferenceOhms, toGround = noiseGain - 1 - rf / joined; // Rf/Rg
            foreach (double? rg in divides || toGround < 1e-6 ? Absent : Some(target.Near(given.Rg, rf / toGround)))
            {
                if (!divides)
                {
                    // R1 sets nothing here but the balance of the bias currents.
                    double parallel = 1 / (1 / rf + 1 / joined + (1 / rg ?? 0));
                    foreach (double r1 in target.Near(given.R1, Math.Max(10, parallel - target.SourceOhms)))
                        yield return make(r1, r2, null, rf, rg);
                    continue;
                }
                double ratio = gain / (1 + rf / joined); // R3/(R1 + Rs + R3)
                foreach (double r1 in target.Decade(given.R1, 10e3))
                {
                    foreach (double r3 in target.Near(given.R3, (r1 + target.SourceOhms) * ratio / (1 - ratio)))
                        yield return make(r1, r2, r3, rf, null);
                }
            }
        }
    }

    /// <summary>Pairs of feedback resistor and resistor to ground near a noise gain.</summary>
    private static IEnumerable<(double? Rf, double? Rg)> MinusPairs(ShiftTarget target, Resistors<Toleranced?> given, double noiseGain)
    {
        // The smaller of the two lies between 10 and 100 kohm.
        double lowest = given.Rf is null ? 10e3 * Math.Max(1, noiseGain - 1) : 0;
        var pairs = from rf in target.Decade(given.Rf, lowest)
                    from rg in target.Near(given.Rg, rf / (noiseGain - 1))
                    orderby Math.Abs(Math.Log(rf / rg / (noiseGain - 1)))
                    select (rf, rg);
        return pairs.Take(MostOfASide).Select(p => new ValueTuple<double?, double?>(p.rf, p.rg));
    }

    private static readonly double?[] Absent = [null];

    private static IEnumerable<double?> Some(IEnumerable<double> values) => values.Select(v => (double?)v);

    private static IEnumerable<HandStep> HandMath(Network n, OpAmpPart amp)
    {
        var v = n.Values;
        var ideal = n.OpAmp.Ideal();
        string r1 = ShiftHandMath.WithSource("R1", n.SourceOhms);
        string first = ShiftHandMath.Ohms(v.R1!.Value + n.SourceOhms);
        double noiseGain = n.OpAmp.NoiseGain, plusOhms = n.OpAmp.PlusOhms;
        string[] minus = [.. v.Rg is null ? Array.Empty<string>() : ["Rf/Rg"], .. n.Subtracts && v.R2 is not null
            ? [$"Rf/{n.ReferenceName}"] : Array.Empty<string>()];
        if (v.Rf is { } rf)
        {
            string[] numbers =
            [
                .. v.Rg is { } rg ? [$"{ShiftHandMath.Ohms(rf)}/{ShiftHandMath.Ohms(rg)}"] : Array.Empty<string>(),
                .. n.Subtracts && n.ReferenceLeg is { } r2 ? [$"{ShiftHandMath.Ohms(rf)}/{ShiftHandMath.Ohms(r2)}"] : Array.Empty<string>(),
            ];
            yield return new("noise gain", $"K = 1 + {string.Join(" + ", minus)}",
                $"1 + {string.Join(" + ", numbers)}", noiseGain, "")
            { Measure = new GainMeasure(amp.Plus, amp.Output) };
        }
        else
        {
            yield return new("noise gain of a follower", "K = 1", "1", 1, "") { Measure = new GainMeasure(amp.Plus, amp.Output) };
        }
        bool divides = v.R3 is not null || (!n.Subtracts && v.R2 is not null);
        if (divides)
        {
            string?[] names = [n.Subtracts || v.R2 is null ? null : n.ReferenceName, v.R3 is null ? null : "R3"];
            string others = string.Join(" ‖ ", names.OfType<string>());
            double?[] legs = [n.Subtracts ? null : n.ReferenceLeg, v.R3];
            yield return new("parallel of the resistors at the plus input", $"Rp = {r1} ‖ {others}",
                string.Join(" ‖ ", legs.OfType<double>().Select(ShiftHandMath.Ohms).Prepend(first)), plusOhms, "ohm")
            { Measure = new ResistanceMeasure(amp.Plus) };
        }
        yield return new("gain", divides ? $"G = K·Rp/{r1}" : "G = K",
            divides ? $"{SiText.Format(noiseGain, "")}·{ShiftHandMath.Ohms(plusOhms)}/{first}"
                : SiText.Format(noiseGain, ""), ideal.Gain, "");
        if (n.ReferenceLeg is { } reference)
        {
            yield return n.Subtracts
                ? new("shift", $"Vo(0) = −Vref·Rf/{n.ReferenceName}",
                    $"−{ShiftHandMath.V(n.ReferenceVolts)}·{ShiftHandMath.Ohms(v.Rf!.Value)}/{ShiftHandMath.Ohms(reference)}",
                        ideal.OffsetVolts, "V")
                : new("shift", $"Vo(0) = K·Vref·Rp/{n.ReferenceName}",
                    $"{SiText.Format(noiseGain, "")}·{ShiftHandMath.V(n.ReferenceVolts)}·"
                        + $"{ShiftHandMath.Ohms(plusOhms)}/{ShiftHandMath.Ohms(reference)}",
                    ideal.OffsetVolts, "V");
        }
    }

    /// <summary>The five resistors by name; null for one that is not there.</summary>
    private sealed record Resistors<T>(T R1, T R2, T R3, T Rf, T Rg);

    private sealed record Network(Resistors<double?> Values, bool Subtracts, double SourceOhms, ShiftReference? Reference)
        : ReferencedNetwork(Reference)
    {
        protected override (string Name, double? Ohms) ToReference => ("R2", Values.R2);

        /// <summary>The same with another reference.</summary>
        public Network With(ShiftReference? reference) => new(Values, Subtracts, SourceOhms, reference);

        public OpAmpNetwork OpAmp { get; } = new(
            [
                new Leg(Values.R1!.Value + SourceOhms, 0, IsInput: true),
                .. Subtracts ? [] : ShiftReference.LegOf(Values.R2, Reference),
                .. Values.R3 is { } r3 ? [new Leg(r3, 0)] : Array.Empty<Leg>(),
            ],
            [
                .. Values.Rg is { } rg ? [new Leg(rg, 0)] : Array.Empty<Leg>(),
                .. Subtracts ? ShiftReference.LegOf(Values.R2, Reference) : [],
            ], Values.Rf ?? 0);

        /// <summary>How far the resistances seen by the two inputs differ, which lets the bias current make an offset; a follower's cannot
        /// be equal.</summary>
        public double Unbalance => Values.Rf is null ? OpAmp.PlusOhms : Math.Abs(Math.Log(OpAmp.PlusOhms / OpAmp.MinusOhms));
    }
}
