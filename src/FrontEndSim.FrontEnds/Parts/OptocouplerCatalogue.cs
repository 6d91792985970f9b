namespace FrontEndSim.FrontEnds.Parts;

/// <summary>Optocouplers with a transistor, by registered type number.</summary>
internal static class OptocouplerCatalogue
{
    private const string Registered = "registration of the 4N25 to 4N37 series, from memory; the largest ratio is usual of pieces";

    public static ImmutableArray<PartType> Types { get; } =
    [
        new OptocouplerType("4N25", 0.2, 1.5, 10e-3, Registered) { DiodeReverseVolts = 3 }.Checked(),
        new OptocouplerType("4N28", 0.1, 1, 10e-3, Registered) { DiodeReverseVolts = 3 }.Checked(),
        new OptocouplerType("4N35", 1, 3, 10e-3, Registered) { DiodeReverseVolts = 6 }.Checked(),
    ];
}
