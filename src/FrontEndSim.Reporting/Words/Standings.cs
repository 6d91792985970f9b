using FrontEndSim.Reporting.Blocks;
using Verdict = FrontEndSim.FrontEnds.Studies.Check.Verdict;

namespace FrontEndSim.Reporting.Words;

/// <summary>How a standing is written: a sign and a word.</summary>
public static class Standings
{
    /// <summary>On a terminal: "+ met".</summary>
    public static string Screen(Standing standing) => standing switch
    {
        Standing.Met => "+ met",
        Standing.NotMet => "- NOT MET",
        Standing.NotKnown => "? unknown",
        Standing.Warning => "! Warning",
        _ => "",
    };

    /// <summary>In a spreadsheet: "yes", "no", "not known".</summary>
    public static string Data(Standing standing) => standing switch
    {
        Standing.Met => "yes",
        Standing.NotMet => "no",
        Standing.NotKnown => "not known",
        _ => "",
    };

    /// <summary>On paper: the word alone; the writer sets a sign before it.</summary>
    public static string Paper(Standing standing) => standing switch
    {
        Standing.Met => "met",
        Standing.NotMet => "not met",
        Standing.NotKnown => "not known",
        Standing.Warning => "to know",
        _ => "",
    };

    /// <summary>Of a yes or no.</summary>
    public static Standing Of(bool met) => met ? Standing.Met : Standing.NotMet;

    /// <summary>Of a verdict.</summary>
    public static Standing Of(Verdict verdict) => verdict switch
    {
        Verdict.Met => Standing.Met,
        Verdict.NotMet => Standing.NotMet,
        _ => Standing.NotKnown,
    };
}
