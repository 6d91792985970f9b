namespace FrontEndSim.Reporting.Schematic;

/// <summary>Where words stand against their place.</summary>
internal enum Anchor
{
    /// <summary>They begin there.</summary>
    Start,

    /// <summary>Their middle is there.</summary>
    Middle,

    /// <summary>They end there.</summary>
    End,
}

/// <summary>Words on the sheet.</summary>
/// <param name="Text">The words; for a voltage, the name of its node.</param>
/// <param name="At">Where their base line is held.</param>
/// <param name="Anchor">How they are held there.</param>
/// <param name="Kind">What they say.</param>
/// <param name="Owner">Name of the part or node that they belong to.</param>
internal sealed record Words(string Text, Spot At, Anchor Anchor, WordsKind Kind, string Owner)
{
    // Room for the longest voltage: "-888.8 mV".
    private const int VoltageWidth = 66;

    // Room for the share of a rating that a destroyed part takes: "1500 %".
    private const int LoadWidth = 46;

    /// <summary>The room that they take, by the widths of a common screen font at 12 pixels.</summary>
    public Area Area
    {
        get
        {
            int width = Width(Text, Kind);
            int left = Anchor switch { Anchor.Start => At.X, Anchor.Middle => At.X - width / 2, _ => At.X - width };
            return new(left, At.Y - 10, left + width, At.Y + 3);
        }
    }

    /// <summary>How wide words are, rounded up.</summary>
    public static int Width(string text, WordsKind kind) => kind switch
    {
        WordsKind.Voltage => VoltageWidth,
        WordsKind.Load => LoadWidth,
        WordsKind.Rail => Letters(text, 1.1) + 4 + VoltageWidth - 12,
        WordsKind.Name or WordsKind.Node => Letters(text, 1.12),
        _ => Letters(text, 1),
    };

    private static int Letters(string text, double weight) => (int)Math.Ceiling(weight * text.Sum(c => c switch
    {
        'i' or 'j' or 'l' or '.' or ',' or ':' or '\'' or '|' or 'I' or ' ' => 4.4,
        'f' or 't' or 'r' or '-' or '(' or ')' or '/' => 5.4,
        'm' or 'w' or 'M' or 'W' or '%' or '@' or '±' => 11.8,
        >= 'A' and <= 'Z' or 'Ω' => 8.6,
        >= ' ' and <= '~' => 7.7,
        _ => 12,
    }));
}

/// <summary>What words on the sheet say.</summary>
internal enum WordsKind
{
    /// <summary>A part's name.</summary>
    Name,

    /// <summary>A part's value.</summary>
    Value,

    /// <summary>A node's name.</summary>
    Node,

    /// <summary>A node's voltage.</summary>
    Voltage,

    /// <summary>A rail's name with its voltage.</summary>
    Rail,

    /// <summary>How much a part takes of its tightest rating.</summary>
    Load,
}
