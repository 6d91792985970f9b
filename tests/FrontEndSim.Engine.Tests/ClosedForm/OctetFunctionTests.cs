using System.Runtime.Intrinsics;
using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>The exponential and logarithm of eight numbers are those of the C library to two units of the last place.</summary>
public class OctetFunctionTests
{
    private const double TwoUnits = 4.5e-16;

    [Fact]
    public void Exponentials_are_those_of_the_library_over_their_whole_range()
    {
        for (double x = -707.9; x < 708.9; x += 0.0137)
        {
            double expected = Math.Exp(x), found = OctetFunctions.Exp(Vector512.Create(x))[3];
            Assert.True(Math.Abs(found - expected) <= TwoUnits * expected, $"e^{x}: {found:r}, {expected:r}");
        }
        Assert.Equal(1, OctetFunctions.Exp(Vector512.Create(0.0))[0]);
        Assert.Equal(0, OctetFunctions.Exp(Vector512.Create(-1e5))[0]);
        Assert.Equal(0, OctetFunctions.Exp(Vector512.Create(double.NegativeInfinity))[0]);
        Assert.True(double.IsNaN(OctetFunctions.Exp(Vector512.Create(double.NaN))[0]));
    }

    [Fact]
    public void Logarithms_are_those_of_the_library_from_the_smallest_normal_number_to_the_largest()
    {
        for (double power = -307.6; power < 308.2; power += 0.00371)
        {
            double x = Math.Pow(10, power), expected = Math.Log(x), found = OctetFunctions.Log(Vector512.Create(x))[5];
            Assert.True(Math.Abs(found - expected) <= TwoUnits * Math.Abs(expected), $"ln {x:r}: {found:r}, {expected:r}");
        }
        for (double x = 0.5; x < 2; x += 1.7e-5)
        {
            double expected = Math.Log(x), found = OctetFunctions.Log(Vector512.Create(x))[0];
            Assert.True(Math.Abs(found - expected) <= TwoUnits * Math.Abs(expected), $"ln {x:r}: {found:r}, {expected:r}");
        }
        Assert.Equal(0, OctetFunctions.Log(Vector512<double>.One)[0]);
        Assert.Equal(double.NegativeInfinity, OctetFunctions.Log(Vector512<double>.Zero)[0]);
        Assert.Equal(double.PositiveInfinity, OctetFunctions.Log(Vector512.Create(double.PositiveInfinity))[0]);
        Assert.True(double.IsNaN(OctetFunctions.Log(Vector512.Create(-1.0))[0]));
        Assert.True(double.IsNaN(OctetFunctions.Log(Vector512.Create(double.NaN))[0]));
    }
}
