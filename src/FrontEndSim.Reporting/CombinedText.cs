using System.Globalization;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.Reporting.Words;
using static FrontEndSim.Reporting.FirmwareText;

namespace FrontEndSim.Reporting;

/// <summary>What firmware computes from several pins as C (C99), ready to paste.</summary>
public static class CombinedText
{
    /// <summary>Functions in floating point and in whole numbers.</summary>
    public static string C(FirmwareCombined r) => (r.Shares is { } shares
        ? Floating(r, shares) + (r.Whole is { } whole ? "\n" + Whole(r, whole) : "")
        : r.Junction is { } junction ? Junction(r, junction) : "").ReplaceLineEndings("\n");

    /// <summary>A formula in C, of x0, x1 and x2.</summary>
    public static string Of(ShareExpression expression) => expression switch
    {
        PinShare pin => $"x{pin.Place}",
        FixedNumber number => Double(number.Value),
        Calculation of => (of.Kind, of.Operands.Select(Of).ToArray()) switch
        {
            (CalculationKind.Negative, var o) => $"(-{o[0]})",
            (CalculationKind.Sum, var o) => $"({o[0]} + {o[1]})",
            (CalculationKind.Difference, var o) => $"({o[0]} - {o[1]})",
            (CalculationKind.Product, var o) => $"({o[0]} * {o[1]})",
            (CalculationKind.Quotient, var o) => $"({o[0]} / {o[1]})",
            (CalculationKind.Power, var o) => $"pow({o[0]}, {o[1]})",
            (CalculationKind.Exponential, var o) => $"exp({o[0]})",
            (CalculationKind.NaturalLogarithm, var o) => $"log({o[0]})",
            (CalculationKind.DecimalLogarithm, var o) => $"log10({o[0]})",
            (CalculationKind.SquareRoot, var o) => $"sqrt(fmax(0.0, {o[0]}))",
            (CalculationKind.Magnitude, var o) => $"fabs({o[0]})",
            (CalculationKind.Least, var o) => o.Aggregate((a, b) => $"fmin({a}, {b})"),
            var (_, o) => o.Aggregate((a, b) => $"fmax({a}, {b})"),
        },
        _ => throw new ArgumentException($"{expression.GetType().Name} is no formula.", nameof(expression)),
    };

    private static string Floating(FirmwareCombined r, ShareExpression shares)
    {
        string[] pins = Pins(r);
        int degree = r.Coefficients.Length - 1;
        return string.Create(CultureInfo.InvariantCulture, $$"""
            #include <math.h>
            #include <stdint.h>
            {{string.Concat(r.Valid.Select(v => Valid(v)))}}
            /* {{r.Reading}}: {{r.Quantity}} of {{r.Sensor}} in {{In(r.Unit)}} from the codes of {{string.Join(" and ", r.Pins)}},
               by {{Plain(r.Formula!)}} of their shares of the converter's range;
               beyond the span it reads the nearer end, and where the formula has no value that of the higher number;
               the nominal circuit departs from it by up to {{Plain(Figures.Of(r.Residual, r.Unit, 3))}} */
            static double {{Name(r)}}({{Parameters(r)}})
            {
                static const double c[{{degree + 1}}] = {
            {{string.Join("\n", r.Coefficients.Select(c => $"        {SiText.Literal(c)},"))}}
                };
            {{string.Join("\n", pins.Select((p, k) => (p, k)).Where(p => Holds(shares, p.k))
                .Select(p => $"    double x{p.k} = ({Held(p.p, r.Bits[p.k])} + 0.5) / {Math.Pow(2, r.Bits[p.k]):0}.0;"))}}
                double number = {{Of(shares)}}, t, sum = c[{{degree}}];
                int k;{{Unused(pins.Where((_, k) => !Holds(shares, k)))}}
                number = fmax({{Double(r.LowestNumber)}}, fmin({{Double(r.HighestNumber)}}, number));
                t = (number - {{Double(r.Middle)}}) / {{Double(r.Half)}};
                for (k = {{degree - 1}}; k >= 0; k--)
                    sum = sum * t + c[k];
                return sum;
            }
            """) + "\n";
    }

    /// <summary>The steps, a line each, and the table. Quotients of negative numbers go towards zero in C99, as they do in the
    /// engine.</summary>
    private static string Whole(FirmwareCombined r, WholeReading w)
    {
        string whole = Type(w.ProductBits), suffix = Suffix(w.ProductBits), unit = In(r.Unit), part = Part(w.ResultUnit);
        string[] pins = Pins(r);
        string where = w.LeastDenominator > 0
            ? $"at all codes that make the denominator {w.LeastDenominator} at least, as those over the span do"
            : "at all codes whose denominators are not zero";
        string root = w.Steps.Any(s => s.Operation == WholeOperation.Root) ? Root(Name(r), whole) : "";
        string within = Plain(Figures.Of(w.Rounding, r.Unit, 3));
        string bits = w.WholeEntries.All(e => Math.Abs(e) <= int.MaxValue) ? Type(32) : Type(64);
        return string.Create(CultureInfo.InvariantCulture, $$"""
            {{root}}/* whole numbers only, {{PartOf(w.ResultUnit, unit)}}, within {{within}} of that
               {{where}};
               a denominator of zero reads as an end of the span; nothing overflows */
            static {{whole}} {{Name(r)}}_{{part}}({{Parameters(r)}})
            {
                static const {{bits}} table[{{w.WholeEntries.Length}}] = {
            {{Rows(w.WholeEntries)}}
                };
            {{string.Join("\n", w.Steps.Select((s, k) => (s, k)).Where(s => s.s.Operation != WholeOperation.Constant)
                .Select(s => $"    const {whole} s{s.k} = {Step(s.s)};"))}}
                const {{whole}} over = {{Value(w.Over)}}, under = {{Value(w.Under)}};
                {{whole}} width, k, rise, product;{{Unused(pins.Where((_, k) =>
                    !w.Steps.Any(s => s.Operation == WholeOperation.HalfCounts && s.Number == k)))}}
                if (over >= {{w.FineSteps}}{{suffix}} * under)
                    return {{w.Last}}{{suffix}};
                if (over <= 0)
                    return table[0];
                width = under * {{1L << w.Shift}}{{suffix}};
                k = over / width;
                rise = table[k + 1] - table[k];
                product = rise * (over - k * width);
                return table[k] + (product + (product < 0 ? -(width / 2) : width / 2)) / width;
            }
            """) + "\n";

        string Value(int k) => w.Steps[k] is { Operation: WholeOperation.Constant, Number: var n }
            ? n < 0 ? $"({n}{suffix})" : $"{n}{suffix}" : $"s{k}";
        string Step(WholeStep s) => s.Operation switch
        {
            WholeOperation.HalfCounts => $"2 * {Held(pins[s.Number], r.Bits[(int)s.Number], whole)} + 1",
            WholeOperation.Sum => $"{Value(s.Left)} + {Value(s.Right)}",
            WholeOperation.Difference => $"{Value(s.Left)} - {Value(s.Right)}",
            WholeOperation.Product => $"{Value(s.Left)} * {Value(s.Right)}",
            WholeOperation.Negative => $"-{Value(s.Left)}",
            WholeOperation.Magnitude => $"{Value(s.Left)} < 0 ? -{Value(s.Left)} : {Value(s.Left)}",
            WholeOperation.WithSign => $"{Value(s.Right)} < 0 ? -{Value(s.Left)} : {Value(s.Left)}",
            WholeOperation.Least => $"{Value(s.Left)} < {Value(s.Right)} ? {Value(s.Left)} : {Value(s.Right)}",
            WholeOperation.Greatest => $"{Value(s.Left)} > {Value(s.Right)} ? {Value(s.Left)} : {Value(s.Right)}",
            WholeOperation.Raised => $"{Value(s.Left)} * {1L << (int)s.Number}{suffix}",
            WholeOperation.Dropped => Dropped(Value(s.Left), (int)s.Number),
            _ => $"{Name(r)}_root({Value(s.Left)})",
        };
        string Dropped(string value, int power) =>
            $"({value} + ({value} < 0 ? -1 : 1) * {(1L << power) / 2}{suffix}) / {1L << power}{suffix}";
    }

    private static string Root(string name, string type) => $$"""
        /* the largest whole number whose square is not above the value */
        static {{type}} {{name}}_root({{type}} value)
        {
            {{type}} root = 0, bit = {{(type == Type(32) ? "1L << 14" : "1LL << 30")}};
            for (; bit > 0; bit /= 2)
                if ((root + bit) * (root + bit) <= value)
                    root += bit;
            return root;
        }


        """;

    private static string Junction(FirmwareCombined r, FirmwareJunction junction)
    {
        string[] codes = Pins(r);
        string cold = $"{Identifier(r.Pins[1])}_{Identifier(junction.Quantity)}_{Part(junction.ResultUnit)}({codes[1]})";
        long finer = (long)Math.Round(0.01 / junction.ResultUnit), coarser = (long)Math.Round(junction.ResultUnit / 0.01);
        string hundredths = finer > 1 ? $"(int32_t)((junction + (junction < 0 ? -{finer / 2} : {finer / 2})) / {finer})"
            : coarser > 1 ? $"(int32_t)(junction * {coarser})" : "(int32_t)junction";
        return string.Create(CultureInfo.InvariantCulture, $$"""
            /* {{r.Reading}}: {{r.Quantity}} of {{r.Sensor}} in hundredths of {{In(r.Unit)}},
               with the cold junction that pin {{r.Pins[1]}} reads;
               whole numbers only, within {{Plain(Figures.Of(junction.Rounding, r.Unit, 3))}} of the type's own function;
               stands behind the functions of both pins */
            static int32_t {{Name(r)}}_hundredths({{Parameters(r)}})
            {
                const int64_t junction = {{cold}}; /* {{PartOf(junction.ResultUnit, "C")}} */
                return {{Identifier(r.Pins[0])}}_{{Identifier(r.Quantity)}}_hundredths({{codes[0]}}, {{hundredths}});
            }
            """) + "\n";
    }

    private static bool Holds(ShareExpression expression, int place) => expression is PinShare pin ? pin.Place == place
        : expression is Calculation of && of.Operands.Any(o => Holds(o, place));

    // A formula may leave a pin of its reading out.
    private static string Unused(IEnumerable<string> codes) => string.Concat(codes.Select(c => $"\n    (void){c};"));

    private static string Name(FirmwareCombined r) => $"{Identifier(r.Reading)}_{Identifier(r.Quantity)}";

    // No variable of a function ends so, whatever a pin is called.
    private static string[] Pins(FirmwareCombined r) => [.. r.Pins.Select(p => Identifier(p) + "_code")];

    private static string Parameters(FirmwareCombined r) =>
        string.Join(", ", Pins(r).Select((p, k) => $"{(r.Bits[k] <= 16 ? "uint16_t" : "uint32_t")} {p}"));

    /// <summary>A code that is held within those of its converter.</summary>
    private static string Held(string pin, int bits, string type = "double")
    {
        string last = string.Create(CultureInfo.InvariantCulture, $"{(1L << bits) - 1}");
        return bits is 16 or 32 ? $"({type}){pin}" : $"({type})({pin} > {last}u ? {last}u : {pin})";
    }
}
