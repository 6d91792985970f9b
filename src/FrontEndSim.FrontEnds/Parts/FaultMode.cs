namespace FrontEndSim.FrontEnds.Parts;

/// <summary>How a part, a rail or a sensor fails (failure modes in the sense of IEC 60812).</summary>
public enum FaultMode
{
    /// <summary>A part is open: 1 Gohm remains. Of an op amp or gate the output, of a potentiometer the wiper.</summary>
    Open,

    /// <summary>A part is shorted: 10 mohm.</summary>
    Short,

    /// <summary>A diode is mounted the wrong way round.</summary>
    Reversed,

    /// <summary>The output of an op amp or gate sticks at its positive rail, behind 50 ohm.</summary>
    StuckHigh,

    /// <summary>The output of an op amp or gate sticks at its negative rail, behind 50 ohm.</summary>
    StuckLow,

    /// <summary>A rail stands at 0 V behind its source resistance, as when its supply is off and other loads hold it down.</summary>
    RailLost,

    /// <summary>Nothing feeds a rail: only what is connected to it holds it.</summary>
    RailOpen,

    /// <summary>A sensor's wire is broken.</summary>
    SensorOpen,

    /// <summary>A sensor's wire touches a node: ground, a rail or another of its wires, through 0.1 ohm.</summary>
    SensorShort,

    /// <summary>One wire of a sensor with three or more is broken.</summary>
    WireOpen,

    /// <summary>A transmitter says that it has failed, by its low alarm level.</summary>
    AlarmLow,

    /// <summary>The same by its high alarm level.</summary>
    AlarmHigh,
}
