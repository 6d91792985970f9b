using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>A voltage level that may move with a rail: "VDD + 0.3 V", "VDD", "3.6 V".</summary>
/// <param name="Rail">The rail it is measured from, or null for ground.</param>
/// <param name="Volts">What is added to the rail's voltage, V.</param>
public sealed record Level(string? Rail, double Volts)
{
    /// <summary>The voltage of this level, V, with the rails at the voltages given.</summary>
    /// <param name="railVolts">Gives the voltage of a rail by its name, V.</param>
    public double Resolve(Func<string, double> railVolts) => (Rail is null ? 0 : railVolts(Rail)) + Volts;

    /// <summary>The voltage of this level, V, with the rails at their nominal voltages.</summary>
    /// <exception cref="StudyProblemException">There is no such rail.</exception>
    public double Resolve(IEnumerable<Rail> rails) => Resolve(name =>
        rails.FirstOrDefault(r => r.Name == name)?.Volts.Value ?? throw new StudyProblemException(
            new(ProblemKind.NoSuch, name, "rail") { Known = [.. rails.Select(r => r.Name)] }));

    /// <summary>"VDD + 0.3 V", "VDD" or "3.6 V".</summary>
    public override string ToString() => Rail is null ? Text(Volts)
        : Volts == 0 ? Rail
        : $"{Rail} {(Volts < 0 ? "-" : "+")} {Text(Math.Abs(Volts))}";

    // Tenths of a volt are written as such on data sheets: 0.3 V rather than 300 mV.
    private static string Text(double volts) => Math.Abs(volts) is >= 0.1 and < 1000 ? SiText.Plain(volts, "V") : SiText.Format(volts, "V");
}

/// <summary>A range between two levels, which may move with rails.</summary>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end.</param>
public sealed record LevelSpan(Level Low, Level High)
{
    /// <summary>"0 V .. VDD".</summary>
    public override string ToString() => $"{Low} .. {High}";
}
