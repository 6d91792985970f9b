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

    /// <summary>What the signature of a file that was refused begins with, before the code of its first error.</summary>
    public const string RefusedCode = "refused ";

    /// <summary>The signature of one that has no solution.</summary>
    public const string GivenUpCode = "given up";

    /// <summary>It was refused, where it was to be solved.</summary>
    public static Finding Refused(string code, string detail) => new(RefusedCode + code, detail);

    /// <summary>It has no solution.</summary>
    public static Finding GivenUp(string detail) => new(GivenUpCode, detail);
}
