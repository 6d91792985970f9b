using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Boards;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>What firmware computes from the codes of a pin is off what the sensor measures by less than a limit in the sensor's own unit:
/// on every board, all tolerances in their worst case together, if nothing else is asked.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Maximum">The error must be below this, in the sensor's unit, above zero.</param>
/// <param name="UnitText">Symbol of that unit.</param>
/// <param name="Over">The part of the span that it must hold over; null for all of it.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record ReadingError(string Pin, double Maximum, string UnitText, Span? Over, string Text) : Requirement(Text)
{
    /// <summary>What is asked of the boards that are built; null for every one of them, without a calibration.</summary>
    public BoardWish? Boards { get; init; }

    internal override bool IsOfOneTemperature => Boards is null;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        solved.FrontEnd.FindPin(Pin);
        var mapping = solved.Mapping(Pin, cancel: cancel);
        if (mapping.Back is null)
            throw NothingRead();
        if (Boards is { } boards)
        {
            var spread = solved.Boards(mapping, boards, true, Over, cancel);
            return Below(Quantity.InText(spread.Largest, UnitText), Quantity.InText(Maximum, UnitText),
                new BoardReason(mapping.Sensor, Pin, mapping.SensorUnit, spread));
        }
        var found = solved.Spread(mapping, Over, cancel) ?? throw NothingRead();
        return Below(Quantity.InText(found.Largest, UnitText), Quantity.InText(Maximum, UnitText),
            new ReadingReason(mapping.Sensor, Pin, found));

        StudyProblemException NothingRead() =>
            new($"Pin {Pin} does not follow sensor {mapping.Sensor}, so its codes say nothing of {mapping.Quantity}.");
    }
}
