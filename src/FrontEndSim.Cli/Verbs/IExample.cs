namespace FrontEndSim.Cli.Verbs;

/// <summary>A verb whose help ends with a line to paste.</summary>
internal interface IExample
{
    /// <summary>Words after the program's name that work when pasted in the top folder of a clone.</summary>
    string Example { get; }
}
