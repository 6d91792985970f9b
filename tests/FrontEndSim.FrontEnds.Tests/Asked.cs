using System.Diagnostics.CodeAnalysis;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Tests;

/// <summary>
/// What is asked of a stage, in tests: values by "SETTING.BLANK", names as text, a setting without blanks as true; what a kind does not
/// take is passed over. Another reader of settings than the language, by the same interface.
/// </summary>
internal static class Asked
{
    public static StageRequest Of(string kind, string name, IReadOnlyDictionary<string, object> values, IReadOnlyList<Rail> rails,
        IReadOnlyList<Sensor> sensors, PartCatalogue? catalogue = null)
    {
        var found = StageKinds.Find(kind)!;
        var given = SettingValues.Empty;
        foreach (var setting in found.Settings.Where(s => values.Keys.Any(k => k.Split('.')[0] == s.Name)))
            given = given.With([setting.Read(new Reader(setting.Name, values, rails, sensors, catalogue))!]);
        return new(found, name, given, rails, sensors) { Catalogue = catalogue ?? PartCatalogue.Standard };
    }

    private sealed class Reader(string setting, IReadOnlyDictionary<string, object> values, IReadOnlyList<Rail> rails,
        IReadOnlyList<Sensor> sensors, PartCatalogue? catalogue) : IBlankReader
    {
        public bool Has(SettingBlank blank) => values.ContainsKey($"{setting}.{blank.Name}");

        public bool TryRead(NodeBlank blank, [MaybeNullWhen(false)] out string node) => Is(blank, out node);

        public bool TryRead(RailBlank blank, [MaybeNullWhen(false)] out Rail rail)
        {
            string name = (string)Value(blank);
            rail = name == Circuit.Ground ? new(name, 0) : rails.Single(r => r.Name == name);
            return true;
        }

        public bool TryRead(SensorBlank blank, [MaybeNullWhen(false)] out Sensor sensor)
        {
            string name = (string)Value(blank);
            sensor = sensors.Single(s => s.Name == name);
            return true;
        }

        public bool TryRead(QuantityBlank blank, out double value)
        {
            var quantity = (Quantity)Value(blank);
            value = quantity.Value;
            return quantity.Unit == blank.Unit;
        }

        public bool TryRead(PercentBlank blank, out double fraction) => Is(blank, out fraction);

        public bool TryRead(SpanBlank blank, out Span span) => Is(blank, out span);

        public bool TryRead(CountBlank blank, out int count) => Is(blank, out count);

        public bool TryRead<T>(NameBlank<T> blank, [MaybeNullWhen(false)] out T value) where T : notnull
        {
            string name = (string)Value(blank);
            value = blank.All(catalogue ?? PartCatalogue.Standard).First(c => c.Name.Equals(name, StringComparison.OrdinalIgnoreCase))
                .Make();
            return true;
        }

        private bool Is<T>(SettingBlank blank, out T value)
        {
            value = (T)Value(blank);
            return true;
        }

        private object Value(SettingBlank blank) => values[$"{setting}.{blank.Name}"];
    }
}
