using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Tests;

public sealed class RecordTests
{
    // A record's parameter that begins with a small letter becomes a property beside the one that is meant: changing it in a copy changes
    // nothing.
    [Fact]
    public void No_public_property_begins_with_a_small_letter() => Assert.Empty(typeof(FrontEnd).Assembly.GetExportedTypes()
        .SelectMany(t => t.GetProperties()).Where(p => char.IsLower(p.Name[0])).Select(p => $"{p.DeclaringType!.Name}.{p.Name}"));
}
