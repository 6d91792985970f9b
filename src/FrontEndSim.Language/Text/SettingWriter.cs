using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.Language.Text;

/// <summary>Writes what fills the blanks of settings.</summary>
internal sealed class SettingWriter : IBlankWriter
{
    /// <summary>The one there is: it holds nothing.</summary>
    public static SettingWriter Instance { get; } = new();

    public string Name(string name) => name;

    public string Quantity(Quantity quantity) => ValueText.Of(quantity.Value, quantity.Unit.Symbol);

    public string Fraction(double fraction) => ValueText.Percent(fraction);

    public string Span(Span span) => ValueText.Of(span);
}
