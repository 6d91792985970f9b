using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Boards;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>What firmware computes is off what the sensor measures by less than a limit in the sensor's own unit: on every board, all
/// tolerances in their worst case together, if nothing else is asked.</summary>
/// <param name="Of">Name of the pin or reading.</param>
/// <param name="Maximum">The error must be below this, in the sensor's unit, above zero.</param>
/// <param name="UnitText">Symbol of that unit.</param>
/// <param name="Over">The part of the span that it must hold over; null for all of it.</param>
/// <param name="Text">The requirement in words.</param>
public abstract record FirmwareError(string Of, double Maximum, string UnitText, Span? Over, string Text) : Requirement(Text)
{
    /// <summary>What is asked of the boards that are built; null for every one of them, without a calibration.</summary>
    public BoardTarget? Boards { get; init; }

    internal override bool IsOfOneTemperature => Boards is null;

    internal override (string Of, double? Share)? OnBoards => (Of, Boards?.Share);

    private protected RequirementResult Below(double largest, Reason reason) =>
        Below(Quantity.InText(largest, UnitText), Quantity.InText(Maximum, UnitText), reason);
}

/// <summary>The same of what firmware computes from the codes of one pin.</summary>
/// <inheritdoc cref="FirmwareError"/>
public sealed record ReadingError(string Pin, double Maximum, string UnitText, Span? Over, string Text)
    : FirmwareError(Pin, Maximum, UnitText, Over, Text)
{
    internal override double? Tolerated(FrontEnd frontEnd, string pin) => Pin == pin && Over is null ? Maximum : null;

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
            return Below(spread.Largest, new BoardReason(mapping.Sensor, Pin, mapping.SensorUnit, spread));
        }
        var found = solved.Spread(mapping, Over, cancel) ?? throw NothingRead();
        return Below(found.Largest, new ReadingReason(mapping.Sensor, Pin, found));

        StudyProblemException NothingRead() =>
            new(new(ProblemKind.DoesNotFollow, Pin, mapping.Sensor));
    }
}

/// <summary>The same of what firmware computes from several pins.</summary>
/// <inheritdoc cref="FirmwareError"/>
public sealed record CombinedReadingError(string Reading, double Maximum, string UnitText, Span? Over, string Text)
    : FirmwareError(Reading, Maximum, UnitText, Over, Text)
{
    internal override double? Tolerated(FrontEnd frontEnd, string pin) =>
        Over is null && frontEnd.FindReading(Reading).Pins[0] == pin ? Maximum : null;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var reading = solved.FrontEnd.FindReading(Reading);
        var spread = CombinedStudy.Spread(solved, reading, Over, cancel);
        return Below(spread.Largest, new ReadingReason(reading.Sensor, reading.Name, spread));
    }
}

/// <summary>The same of the amplitude that firmware computes from codes taken over periods.</summary>
/// <inheritdoc cref="FirmwareError"/>
public sealed record AlternatingReadingError(string Reading, double Maximum, string UnitText, Span? Over, string Text)
    : FirmwareError(Reading, Maximum, UnitText, Over, Text)
{
    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var reading = solved.FrontEnd.FindAlternatingReading(Reading);
        var spread = AlternatingStudy.Spread(solved, reading, Over, cancel);
        return Below(spread.Largest, new ReadingReason(reading.Sensor, reading.Name, spread));
    }
}
