namespace FrontEndSim.Fuzz;

/// <summary>Something the program should never do.</summary>
/// <param name="Signature">What it was, without what differs from input to input.</param>
/// <param name="Detail">The words it was told with.</param>
internal sealed record Finding(string Signature, string Detail)
{
    /// <summary>It did not end in time.</summary>
    public static Finding Hang(string detail) => new("hang", detail);

    /// <summary>It took more memory than a circuit file may cost.</summary>
    public static Finding Memory(string detail) => new("memory", detail);

    /// <summary>Its process ended.</summary>
    public static Finding Death(string detail) => new("process died", detail);
}
