using FrontEndSim.Language.Binding.Scopes;
using Span = FrontEndSim.FrontEnds.Quantities.Span;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>Which numbers may stand in a blank.</summary>
internal enum NumberRule
{
    Positive,
    NotNegative,
    Any,
    Fraction,
}

/// <summary>What may be said of a part or a type: the words, what they make of it, and how they are written back.</summary>
/// <param name="Words">The words.</param>
/// <param name="Fill">What it is with them; null for words that something else reads.</param>
internal sealed record Detail<T>(Addition Words, Func<T, FigureReader, T>? Fill = null) where T : class
{
    private readonly Func<T?, FigureReader, T?>? _number;

    /// <summary>A word with one number.</summary>
    public Detail(string word, Blank number, Func<T, double, T> with, NumberRule rule = NumberRule.Positive)
        : this(new Addition(word, number)) =>
        _number = (it, read) => read.Given(number.Name, rule) is { } value && it is not null ? with(it, value) : it;

    /// <summary>How it is written back; null, or null of a thing, for nothing.</summary>
    public Func<T, string?>? Written { get; init; }

    /// <summary>What is missing without it, in the words of a message; null where it may be left out.</summary>
    public string? Needed { get; init; }

    /// <summary>A thing filled up with what is said of it. Where there is none after a complaint, numbers are complained of
    /// still.</summary>
    public static T? FillUp(T? it, ImmutableArray<Detail<T>> details, FigureReader read)
    {
        foreach (var detail in details.Where(d => read.Has(d.Words.Name)))
            it = detail._number is { } number ? number(it, read) : it is not null && detail.Fill is { } fill ? fill(it, read) : it;
        return it;
    }
}

/// <summary>Reads numbers of a line or statement, and keeps whether all that are there could be read.</summary>
internal class FigureReader(Func<string, Filled?> blanks, Scope scope)
{
    /// <summary>Whether every number that is given could be read.</summary>
    public bool IsComplete { get; protected set; } = true;

    public Scope Scope => scope;

    /// <summary>Whether a word or blank stands there.</summary>
    public bool Has(string blank) => blanks(blank) is not null;

    /// <summary>A number; null if it is not given or after a complaint.</summary>
    public double? Given(string blank, NumberRule rule = NumberRule.Positive) => Checked<double>(blank, rule switch
    {
        NumberRule.Positive => scope.Positive,
        NumberRule.NotNegative => scope.NotNegative,
        NumberRule.Fraction => scope.Fraction,
        _ => scope.Number,
    });

    /// <summary>A number above zero; another one if it is not given or after a complaint.</summary>
    public double Positive(string blank, double otherwise = 1) => Given(blank) ?? otherwise;

    /// <summary>A number of zero or more; another one if it is not given or after a complaint.</summary>
    public double NotNegative(string blank, double otherwise = 0) => Given(blank, NumberRule.NotNegative) ?? otherwise;

    /// <summary>Any number; zero after a complaint.</summary>
    public double Number(string blank) => Given(blank, NumberRule.Any) ?? 0;

    /// <summary>A percentage, as a fraction; another one if it is not given or after a complaint.</summary>
    public double Fraction(string blank, double otherwise) => Given(blank, NumberRule.Fraction) ?? otherwise;

    /// <summary>A number that passes a test; another one after a complaint. <paramref name="rule"/> completes "This must be …".</summary>
    public double Within(string blank, Func<double, bool> passes, string rule, double otherwise) =>
        Checked(blank, filled => scope.Within(filled, passes, rule)) ?? otherwise;

    /// <summary>A range; null if it is not given or after a complaint.</summary>
    public Span? Span(string blank) => Checked(blank, scope.Span);

    private T? Checked<T>(string blank, Func<Filled?, T?> read) where T : struct
    {
        var filled = blanks(blank);
        var value = read(filled);
        IsComplete &= value is not null || filled is null;
        return value;
    }
}
