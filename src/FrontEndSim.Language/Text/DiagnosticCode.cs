namespace FrontEndSim.Language.Text;

/// <summary>A kind of diagnostic. A code has one meaning, and keeps it: scripts may rely on it.</summary>
/// <param name="Text">FES and three digits: 1 for files, 2 for the form of lines, 3 for names and values, 4 for the circuit as a
/// whole.</param>
/// <param name="Meaning">What it means, a sentence.</param>
public sealed record DiagnosticCode(string Text, string Meaning)
{
    internal static readonly DiagnosticCode IsFolder = new("FES101", "The path is that of a folder.");
    internal static readonly DiagnosticCode NoSuchFile = new("FES102", "There is no file of that name.");
    internal static readonly DiagnosticCode FileTooLong = new("FES103", "The file is longer than a circuit file may be.");
    internal static readonly DiagnosticCode Unreadable = new("FES104", "The file cannot be read.");
    internal static readonly DiagnosticCode IsUtf16 = new("FES105", "The file is UTF-16 text.");
    internal static readonly DiagnosticCode NotText = new("FES106", "The file is no text.");
    internal static readonly DiagnosticCode NotUtf8 = new("FES107", "The file is not UTF-8 text.");
    internal static readonly DiagnosticCode EmptyFile = new("FES110", "The file has no statement.");
    internal static readonly DiagnosticCode OpenQuote = new("FES201", "A quote is not closed on its line.");
    internal static readonly DiagnosticCode StrangeCharacter = new("FES202", "A character has no meaning in the language.");
    internal static readonly DiagnosticCode LineTooLong = new("FES203", "A line is longer than lines may be.");
    internal static readonly DiagnosticCode IndentedWithoutOwner = new("FES210", "An indented line has no statement above it.");
    internal static readonly DiagnosticCode UnequalIndent = new("FES211", "Lines of one statement are not indented alike.");
    internal static readonly DiagnosticCode IndentedTooDeep = new("FES212", "Lines are indented deeper than lines may be.");
    internal static readonly DiagnosticCode NestedTooDeep = new("FES213", "Parentheses are nested deeper than they may be.");
    internal static readonly DiagnosticCode SettingOfSetting = new("FES214", "A setting has lines of its own below it.");
    internal static readonly DiagnosticCode Unexpected = new("FES220", "A word, value or sign does not fit where it stands.");
    internal static readonly DiagnosticCode EndsTooEarly = new("FES221", "The line ends where something has to follow.");
    internal static readonly DiagnosticCode NoStatement = new("FES222", "A line does not begin with a statement that may stand there.");
    internal static readonly DiagnosticCode BlankTwice = new("FES223", "One blank of a line is filled twice.");
    internal static readonly DiagnosticCode NoSuchSetting = new("FES224", "A line below a statement is none of its settings.");
    internal static readonly DiagnosticCode SettingTwice = new("FES225", "A setting that may be given once is given twice.");
    internal static readonly DiagnosticCode OneValueNeeded = new("FES226", "A text that has to be one value is none or several.");
    internal static readonly DiagnosticCode GroundIsTaken = new("FES301", "The name of the ground node is given to something else.");
    internal static readonly DiagnosticCode NameTwice = new("FES302", "One name is given to two things.");
    internal static readonly DiagnosticCode WrongKindOfThing = new("FES303", "A name means another kind of thing than is needed.");
    internal static readonly DiagnosticCode UnknownName = new("FES304", "Nothing has that name.");
    internal static readonly DiagnosticCode TooManyParts =
        new("FES305", "The circuit has more parts or statements than a circuit may have.");
    internal static readonly DiagnosticCode GroundMisspelt = new("FES306", "The ground node is written in another way.");
    internal static readonly DiagnosticCode NameIsUnit = new("FES307", "A name is a unit, so that it could be misread.");
    internal static readonly DiagnosticCode NameIsShippedStage = new("FES308", "A template has the name of a shipped kind of stage.");
    internal static readonly DiagnosticCode OutOfRange = new("FES310", "A value is outside of the range that makes sense there.");
    internal static readonly DiagnosticCode PercentageNeeded = new("FES311", "A percentage is needed, and something else is given.");
    internal static readonly DiagnosticCode RangeReversed = new("FES312", "The lower end of a range is not below the upper one.");
    internal static readonly DiagnosticCode NoLevel = new("FES313", "A level follows rails in a way that a level cannot.");
    internal static readonly DiagnosticCode NotFinite = new("FES314", "A value is not finite.");
    internal static readonly DiagnosticCode WrongUnit = new("FES315", "A value has another unit than is needed.");
    internal static readonly DiagnosticCode NoQuantity = new("FES316", "Digits and letters are no quantity.");
    internal static readonly DiagnosticCode UnitsDiffer = new("FES317", "Values of different units are added or taken from each other.");
    internal static readonly DiagnosticCode NoSuchValue = new("FES318", "A name stands for no value.");
    internal static readonly DiagnosticCode CircularValue = new("FES319", "A value depends on itself.");
    internal static readonly DiagnosticCode ValueTooDeep = new("FES320", "A value is made of more steps than values may be.");
    internal static readonly DiagnosticCode UnknownFunction =
        new("FES321", "There is no such function, or it is given too many or too few values.");
    internal static readonly DiagnosticCode CircuitInIncluded = new("FES330", "An included file has a circuit line.");
    internal static readonly DiagnosticCode StatementTwice = new("FES331", "A statement that may stand once in a circuit stands twice.");
    internal static readonly DiagnosticCode SensorWithoutSpan = new("FES333", "A sensor has no span.");
    internal static readonly DiagnosticCode SwitchUndecided =
        new("FES334", "It is not clear whether a switch is open or closed at the start.");
    internal static readonly DiagnosticCode SeveralWaveforms = new("FES335", "A source has more than one waveform.");
    internal static readonly DiagnosticCode DecayFromElsewhere = new("FES336", "A decay does not start from zero.");
    internal static readonly DiagnosticCode EventUndecided = new("FES337", "It is not clear what happens in an event.");
    internal static readonly DiagnosticCode ImpossibleDisturbance = new("FES338", "A number of a disturbance makes no sense.");
    internal static readonly DiagnosticCode UnknownGenerator = new("FES339", "A standard has no wave, pulse or coupling of that name.");
    internal static readonly DiagnosticCode PinWithoutRating = new("FES340", "A pin has no rating that it could be inside of.");
    internal static readonly DiagnosticCode PinWithoutConverter = new("FES341", "A pin does not convert, and counts are spoken of.");
    internal static readonly DiagnosticCode StageWithoutOpAmp = new("FES342", "A stage has no op amp, and headroom is spoken of.");
    internal static readonly DiagnosticCode PartWithoutRating = new("FES343", "A part has no rating of that kind.");
    internal static readonly DiagnosticCode PinWithoutLogic = new("FES344", "A pin has no logic levels, and logic is spoken of.");
    internal static readonly DiagnosticCode RippleWithoutEdge = new("FES345", "A sensor has ripple and no edge.");
    internal static readonly DiagnosticCode ShortedCurrentSource = new("FES346", "The resistance beside a current source is zero.");
    internal static readonly DiagnosticCode RailUndecided = new("FES347", "A rail is said to sink current and to deliver it only.");
    internal static readonly DiagnosticCode ReasonMissing = new("FES348", "What is accepted has no reason.");
    internal static readonly DiagnosticCode NoPolarity = new("FES349", "What happens in an event has no polarity that could be turned.");
    internal static readonly DiagnosticCode UnknownType = new("FES350", "There is no type of part, op amp, pin or series of that name.");
    internal static readonly DiagnosticCode UnknownStage = new("FES351", "There is no kind of stage of that name.");
    internal static readonly DiagnosticCode SettingMissing = new("FES352", "A setting that has to be given is missing.");
    internal static readonly DiagnosticCode ImpossibleStage = new("FES353", "A stage cannot be built as it is asked for.");
    internal static readonly DiagnosticCode EmptyTemplate = new("FES354", "A template has no parts.");
    internal static readonly DiagnosticCode CircularTemplate =
        new("FES355", "A template uses itself, or templates use each other too deep.");
    internal static readonly DiagnosticCode UnknownPartKind =
        new("FES356", "There is no kind of part of that name that could be described.");
    internal static readonly DiagnosticCode ImpossibleSheet =
        new("FES357", "The numbers of a data sheet contradict each other or do not suffice.");
    internal static readonly DiagnosticCode WaveUnreadable = new("FES358", "The file of a recorded wave cannot be read.");
    internal static readonly DiagnosticCode SensorUndecided =
        new("FES365", "It is not clear how a sensor becomes electrical, or what it measures.");
    internal static readonly DiagnosticCode SensorBeyondLaw =
        new("FES366", "A sensor's span lies where its formula or table does not hold.");
    internal static readonly DiagnosticCode SensorTurns = new("FES367", "A sensor gives the same for two values of what it measures.");
    internal static readonly DiagnosticCode TableUnreadable = new("FES368", "The file of a sensor's table cannot be read.");
    internal static readonly DiagnosticCode NoSensorAtPin =
        new("FES369", "Something is required of the reading of a pin that reads no sensor, or where nothing says what is wanted.");
    internal static readonly DiagnosticCode SensorWithoutPath = new("FES370", "A sensor has no path for its current.");
    internal static readonly DiagnosticCode ChannelsUnclear = new("FES373", "A multiplexer has not the channels that it is said to have.");
    internal static readonly DiagnosticCode ReadingUndecided = new("FES372", "It is not clear how a reading comes of its pins.");
    internal static readonly DiagnosticCode CircularInclude = new("FES360", "Files include each other in a circle.");
    internal static readonly DiagnosticCode IncludeUnreadable = new("FES361", "An included file cannot be read.");
    internal static readonly DiagnosticCode TooManyFiles = new("FES362", "The circuit has more files than a circuit may have.");
    internal static readonly DiagnosticCode NoCircuitFile = new("FES363", "An included file is no circuit file.");
    internal static readonly DiagnosticCode IncludeElsewhere =
        new("FES364", "An included file lies outside of the folder that included files may come from.");
    internal static readonly DiagnosticCode ImpossibleScan =
        new("FES371", "Pins of a scan cannot be read in turn by one sampling capacitor.");
    internal static readonly DiagnosticCode NoTitle = new("FES401", "Warning: the circuit has no title.");
    internal static readonly DiagnosticCode Shorted = new("FES402", "Warning: a part has all its terminals on one node.");
    internal static readonly DiagnosticCode Unused = new("FES403", "Warning: something has a name and is not used.");
    internal static readonly DiagnosticCode NothingConnected =
        new("FES404", "A pin or an event names a node that nothing is connected to.");
    internal static readonly DiagnosticCode NoEvent = new("FES405", "Warning: something is required of events, and there is none.");
    internal static readonly DiagnosticCode LooseEnd = new("FES406", "Warning: a node has one connection.");
    internal static readonly DiagnosticCode NoCircuit =
        new("FES407", "The file has no part, no stage and no title: it is there to be included.");
    internal static readonly DiagnosticCode MilliMeant =
        new("FES408", "Warning: m was written behind a capacitance, where it stands for milli.");
    internal static readonly DiagnosticCode NearlyRail =
        new("FES409", "Warning: a node is named like a rail but for the size of its letters.");
    internal static readonly DiagnosticCode NoSolvableCircuit = new("FES420", "The wiring makes no circuit that could be solved.");
    internal static readonly DiagnosticCode ImpossibleEvent = new("FES421", "An event cannot happen in this circuit.");
    internal static readonly DiagnosticCode NoSupply = new("FES422", "An op amp or gate is supplied from a node that nothing feeds.");
    internal static readonly DiagnosticCode SupplyReversed = new("FES423", "The supplies of an op amp stand the wrong way round.");

    /// <summary>All codes, in order.</summary>
    public static ImmutableArray<DiagnosticCode> All { get; } =
    [
        IsFolder, NoSuchFile, FileTooLong, Unreadable, IsUtf16, NotText, NotUtf8, EmptyFile, OpenQuote, StrangeCharacter, LineTooLong,
        IndentedWithoutOwner, UnequalIndent, IndentedTooDeep, NestedTooDeep, SettingOfSetting, Unexpected, EndsTooEarly, NoStatement,
        BlankTwice, NoSuchSetting, SettingTwice, OneValueNeeded, GroundIsTaken, NameTwice, WrongKindOfThing, UnknownName, TooManyParts,
        GroundMisspelt, NameIsUnit, NameIsShippedStage, OutOfRange, PercentageNeeded, RangeReversed, NoLevel, NotFinite, WrongUnit,
        NoQuantity, UnitsDiffer, NoSuchValue, CircularValue, ValueTooDeep, UnknownFunction, CircuitInIncluded, StatementTwice,
        SensorWithoutSpan, SwitchUndecided, SeveralWaveforms, DecayFromElsewhere, EventUndecided,
        ImpossibleDisturbance, UnknownGenerator, PinWithoutRating, PinWithoutConverter, StageWithoutOpAmp, PartWithoutRating,
        PinWithoutLogic, RippleWithoutEdge, ShortedCurrentSource, RailUndecided, ReasonMissing, NoPolarity, UnknownType, UnknownStage,
        SettingMissing, ImpossibleStage, EmptyTemplate, CircularTemplate, UnknownPartKind, ImpossibleSheet, WaveUnreadable, CircularInclude,
        IncludeUnreadable, TooManyFiles, NoCircuitFile, IncludeElsewhere, SensorUndecided, SensorBeyondLaw, SensorTurns, TableUnreadable,
        NoSensorAtPin, SensorWithoutPath, ImpossibleScan, ReadingUndecided, ChannelsUnclear,
        NoTitle, Shorted, Unused, NothingConnected, NoEvent, LooseEnd,
        NoCircuit, MilliMeant, NearlyRail, NoSolvableCircuit, ImpossibleEvent, NoSupply, SupplyReversed,
    ];

    /// <inheritdoc/>
    public override string ToString() => Text;
}
