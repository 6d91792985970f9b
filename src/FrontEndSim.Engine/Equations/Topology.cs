using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;

namespace FrontEndSim.Engine.Equations;

/// <summary>What all solutions of one circuit share: the numbering, the matrix pattern, and pivot orders found so far.</summary>
internal sealed class Topology
{
    private readonly Dictionary<string, int> _index;
    private PivotPlan? _staticPlan, _dynamicPlan;

    public Topology(ImmutableArray<Element> elements, double celsius)
    {
        Elements = elements;
        Kelvin = celsius + Constants.ZeroCelsius;
        _index = elements.Select((e, k) => (e.Name, k)).ToDictionary(e => e.Name, e => e.k);
        Wiring = new Wiring(elements);
        foreach (var element in elements)
            element.Bind<Scalar>(Wiring);
        Wiring.Freeze();
        NonlinearRows = new bool[Wiring.Size];
        var rowOf = new int[Wiring.EntryCount];
        for (int r = 0; r < Wiring.Size; r++)
            Array.Fill(rowOf, r, Wiring.RowStart[r], Wiring.RowStart[r + 1] - Wiring.RowStart[r]);
        foreach (int e in Wiring.NonlinearEntries)
        {
            NonlinearRows[rowOf[e]] = true;
            NonlinearRows[Wiring.Columns[e]] = true;
        }
        NodeDiagonals = [.. Enumerable.Range(0, Wiring.EntryCount)
            .Where(p => rowOf[p] == Wiring.Columns[p] && rowOf[p] >= Wiring.FirstUnknown && rowOf[p] < Wiring.NodeCount)];
    }

    public ImmutableArray<Element> Elements { get; }

    public double Kelvin { get; }

    public Wiring Wiring { get; }

    /// <summary>Rows (and columns) that some nonlinear part touches.</summary>
    public bool[] NonlinearRows { get; }

    /// <summary>Matrix entries on the diagonal of the nodes.</summary>
    public int[] NodeDiagonals { get; }

    /// <summary>Place of a part in <see cref="Elements"/>, or −1.</summary>
    public int IndexOf(string element) => _index.GetValueOrDefault(element, -1);

    /// <summary>The pivot order last found good, at DC or in time steps.</summary>
    public PivotPlan? BorrowPlan(bool dynamic) => Volatile.Read(ref dynamic ? ref _dynamicPlan : ref _staticPlan);

    /// <summary>Keeps a pivot order for the kernels made later.</summary>
    public void LendPlan(PivotPlan plan, bool dynamic) => Volatile.Write(ref dynamic ? ref _dynamicPlan : ref _staticPlan, plan);
}
