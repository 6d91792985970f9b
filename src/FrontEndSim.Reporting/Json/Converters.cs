using System.Text.Json;
using System.Text.Json.Serialization;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.Reporting.Json;

/// <summary>Writes a thing of the front end by its name.</summary>
internal sealed class NameConverter<T>(Func<T, string> name) : WritingConverter<T>
{
    public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(name(value));
}

/// <summary>Writes a stage by its name, its kind, and the values of its parts.</summary>
internal sealed class StageConverter : WritingConverter<Stage>
{
    public override void Write(Utf8JsonWriter writer, Stage value, JsonSerializerOptions options)
    {
        writer.WriteStartObject();
        writer.WriteString("name", value.Name);
        writer.WriteString("kind", value.Kind);
        writer.WriteStartObject("parts");
        foreach (var part in value.Parts)
            writer.WriteString(part.Name, part.ValueText);
        writer.WriteEndObject();
        writer.WriteEndObject();
    }
}

/// <summary>Writes a number; one that JSON lacks is null.</summary>
internal sealed class NumberConverter : WritingConverter<double>
{
    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
    {
        if (double.IsFinite(value))
            writer.WriteNumberValue(value);
        else
            writer.WriteNullValue();
    }
}

/// <summary>Writes a quantity as an object with "value" and "unit".</summary>
internal sealed class QuantityConverter : WritingConverter<Quantity>
{
    public override void Write(Utf8JsonWriter writer, Quantity value, JsonSerializerOptions options)
    {
        writer.WriteStartObject();
        writer.WritePropertyName("value");
        if (double.IsFinite(value.Value))
            writer.WriteNumberValue(value.Value);
        else
            writer.WriteNullValue();
        writer.WriteString("unit", value.Symbol);
        writer.WriteEndObject();
    }
}

/// <summary>A converter of records that are never read back.</summary>
internal abstract class WritingConverter<T> : JsonConverter<T>
{
    public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        throw new NotSupportedException();
}
