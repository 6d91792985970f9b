namespace FrontEndSim.Engine.Circuits;

/// <summary>Things joined into sets of which no two have one in common (union-find). Each thing is a set of its own at first.</summary>
/// <typeparam name="T">The things.</typeparam>
public sealed class DisjointSets<T> where T : notnull
{
    private readonly Dictionary<T, T> _parent = [];

    /// <summary>The one thing that stands for all that a thing is joined to.</summary>
    public T Of(T thing)
    {
        var root = thing;
        while (_parent.TryGetValue(root, out var up))
            root = up;
        // What was passed leads straight to it from now on.
        while (_parent.TryGetValue(thing, out var next) && !next.Equals(root))
        {
            _parent[thing] = root;
            thing = next;
        }
        return root;
    }

    /// <summary>Joins the sets of two things: that of the second stands for both. False if they already are one.</summary>
    public bool Join(T a, T b)
    {
        T first = Of(a), second = Of(b);
        if (first.Equals(second))
            return false;
        _parent[first] = second;
        return true;
    }
}
