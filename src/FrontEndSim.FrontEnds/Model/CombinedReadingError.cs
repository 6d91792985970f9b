using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>What firmware computes from several pins is off what the sensor measures by less than a limit in the sensor's own unit, on
/// every board: all tolerances in their worst case together.</summary>
/// <param name="Reading">Name of the reading.</param>
/// <param name="Maximum">The error must be below this, in the sensor's unit, above zero.</param>
/// <param name="UnitText">Symbol of that unit.</param>
/// <param name="Over">The part of the span that it must hold over; null for all of it.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record CombinedReadingError(string Reading, double Maximum, string UnitText, Span? Over, string Text) : Requirement(Text)
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var reading = solved.FrontEnd.FindReading(Reading);
        var spread = CombinedStudy.Spread(solved, reading, Over, cancel);
        return Below(Quantity.InText(spread.Largest, UnitText), Quantity.InText(Maximum, UnitText),
            new ReadingReason(reading.Sensor, reading.Name, spread));
    }
}
