using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>The slowest settling of a pin after a full change of its sensor.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Seconds">From the change until the pin stays within the error, s; infinity if it does not.</param>
/// <param name="Rises">Whether the sensor rises.</param>
/// <param name="NominalSeconds">The same of nominal parts, the slower of the two changes, s.</param>
/// <param name="Ends">Parts at the ends of their tolerances that make it slowest.</param>
public sealed record SlowestSettling(string Sensor, double Seconds, bool Rises, double NominalSeconds, ImmutableArray<ToleranceEnd> Ends);

/// <summary>
/// Settling with parts at the ends of their tolerances: each alone first, then all at the end that is slower, and every one of what was
/// solved counts.
/// </summary>
internal static class SettlingStudy
{
    // What changes the time by less than this is not put together with the rest.
    private const double Negligible = 1e-3;

    /// <summary>Finds it.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">Name of the pin.</param>
    /// <param name="volts">The error, V.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">No sensor reaches the pin, or it does not follow.</exception>
    public static SlowestSettling Run(SolvedFrontEnd solved, string pin, double volts, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        var (sensor, up, down) = RespondStudy.Steps(solved, pin, volts, cancel);
        var nominal = (Seconds: Math.Max(up, down), Rises: up >= down);
        var moves = frontEnd.AllParts.SelectMany(p => new[] { false, true }.Select(high => (Part: p, High: high, At: p.AtTolerance(high))))
            .Where(m => m.At is not null).ToArray();
        double[] alone = [.. moves.AsParallel().AsOrdered().WithCancellation(cancel)
            .Select(m => Seconds(new SolvedFrontEnd(frontEnd.Replace(m.Part, m.At!.Value.Part)), nominal.Rises))];
        var slower = moves.Select((m, k) => (m.Part, m.High, At: m.At!.Value, Seconds: alone[k]))
            .Where(m => m.Seconds > nominal.Seconds * (1 + Negligible)).GroupBy(m => m.Part.Name)
                .Select(g => g.MaxBy(m => m.Seconds)).ToArray();
        var corner = slower.Aggregate(frontEnd, (f, m) => f.Replace(m.Part, m.At.Part));
        var there = new SolvedFrontEnd(corner);
        (double Seconds, bool Rises, ImmutableArray<ToleranceEnd> Ends)[] all =
        [
            (nominal.Seconds, nominal.Rises, []),
            .. slower.Select(m => (m.Seconds, nominal.Rises, ImmutableArray.Create(new ToleranceEnd(m.Part.Name, m.At.Value, m.High)))),
            .. slower.Length == 0 ? [] : new[] { true, false }.Select(rises => (Seconds(there, rises), rises,
                slower.Select(m => new ToleranceEnd(m.Part.Name, m.At.Value, m.High)).ToImmutableArray())),
        ];
        var worst = all.MaxBy(a => a.Seconds);
        return new(sensor.Name, worst.Seconds, worst.Rises, nominal.Seconds, worst.Ends);

        double Seconds(SolvedFrontEnd at, bool rises) => RespondStudy.SettlingSeconds(at, pin, volts, rises, cancel);
    }
}
