using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>That a sensor tells what it measures by how often its pulses come: its span is then that of its state, 0 between pulses and 1
/// in one.</summary>
/// <param name="Quantity">What is measured, in a word.</param>
/// <param name="UnitText">Symbol of its unit.</param>
/// <param name="Measured">The range of use, in that unit.</param>
/// <param name="LowHertz">Pulses a second at the lower end of it, Hz, at least 0.</param>
/// <param name="HighHertz">At the upper end, Hz; between them they lie on a straight line.</param>
/// <param name="Duty">How much of a period a pulse takes, from the least to the most, fractions; null for half of it.</param>
public sealed record PulseTrain(string Quantity, string UnitText, Span Measured, double LowHertz, double HighHertz, Span? Duty)
{
    /// <summary>Largest error either way in the quantity's unit, wherever it stands.</summary>
    public double OffsetError { get; init; }

    /// <summary>What is added to it for each unit of the quantity's magnitude, a fraction.</summary>
    public double ProportionalError { get; init; }

    /// <summary>What a pulse a second more stands for, in the quantity's unit.</summary>
    public double UnitsPerHertz => Measured.Width / (HighHertz - LowHertz);

    /// <summary>How much of a period a pulse takes at least and at most, fractions.</summary>
    public ImmutableArray<double> Duties => Duty is { } duty ? [duty.Low, duty.High] : [0.5];

    /// <summary>The highest frequency, Hz.</summary>
    public double MostHertz => Math.Max(LowHertz, HighHertz);

    /// <summary>Where that is, in the quantity's unit.</summary>
    public double MostAt => HighHertz > LowHertz ? Measured.High : Measured.Low;

    /// <summary>The state of a sensor against time: so many pulses, each of which a contact may bounce into.</summary>
    /// <param name="hertz">How often they come, Hz.</param>
    /// <param name="duty">How much of a period each takes, a fraction.</param>
    /// <param name="pulses">How many.</param>
    /// <param name="contact">The contact that makes them; null for one that does not bounce.</param>
    internal static Waveform Pulses(double hertz, double duty, int pulses, Contact? contact)
    {
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        points.Add((0, 0));
        for (int k = 0; k < pulses; k++)
        {
            double begins = (k + 0.25) / hertz, ends = begins + duty / hertz;
            points.AddRange((begins, 0), (begins, 1));
            if (contact is { BounceSeconds: > 0 and var bounce })
                points.AddRange(Contact.Bounces(begins, bounce, ends));
            points.AddRange((ends, 1), (ends, 0));
        }
        return new PiecewiseLinear(points.ToImmutable());
    }
}

/// <summary>How firmware counts a pin's pulses.</summary>
/// <param name="GateSeconds">For how long, s, above zero.</param>
/// <param name="ClockTolerance">How far the clock that says so may be off, a fraction either way.</param>
public sealed record PulseCounting(double GateSeconds, double ClockTolerance);
