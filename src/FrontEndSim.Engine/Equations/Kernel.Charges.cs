namespace FrontEndSim.Engine.Equations;

/// <content>The charges of the rows.</content>
internal sealed partial class Kernel<L> where L : struct, ILane<L>
{
    /// <summary>The total charge of each unknown's row at the present iterate, exactly.</summary>
    public void Charges(L[] into)
    {
        Evaluate(exact: true);
        LinearCharges(into);
    }

    /// <summary>
    /// The charges that the last Newton step solved for: along the tangent of the iterate it started from. With them the
    /// currents balance to rounding, so that no charge is lost from step to step. Where they were evaluated after that step, they are
    /// those of the iterate itself: no tangent leads there any more.
    /// </summary>
    public void TangentCharges(L[] into)
    {
        LinearCharges(into);
        if (!_hasMoved)
            return;
        AddNonlinearCharges(L.Of(-1), _step, into);
        for (int r = First; r < into.Length && _hasRemainder; r++)
            into[r] += _leftCharges[r];
    }

    /// <summary>The change of the charges of each unknown's row for a change of the unknowns, with the slopes of the present
    /// iterate.</summary>
    /// <param name="change">The change, by row.</param>
    /// <param name="into">Gets it.</param>
    public void ChargesAlong(L[] change, L[] into)
    {
        Array.Clear(into);
        AddLinearCharges(change, into);
        AddNonlinearCharges(L.Of(1), change, into);
    }

    private void AddNonlinearCharges(L sign, L[] change, L[] into)
    {
        int[] entries = _nonlinearEntries, rows = _nonlinearRowOf, columns = _columns;
        L[] slopes = At.C;
        for (int k = 0; k < entries.Length;)
        {
            int row = rows[k];
            L sum = into[row];
            for (; k < entries.Length && rows[k] == row; k++)
                sum += sign * slopes[entries[k]] * change[columns[entries[k]]];
            into[row] = sum;
        }
    }

    private void LinearCharges(L[] into)
    {
        L[] x = At.X;
        if (!IsLinear)
            At.Q.CopyTo(into, 0);
        else if (_farads.Length == 0)
            Array.Clear(into);
        else
        {
            for (int r = 0; r < into.Length && r < x.Length && r < _farads.Length; r++)
                into[r] = _farads[r] * x[r];
            return;
        }
        AddLinearCharges(x, into);
    }

    /// <summary>Adds what the linear capacitances hold. A row's entries stand together: their sum stays in a register.</summary>
    private void AddLinearCharges(L[] x, L[] into)
    {
        for (int r = 0; r < into.Length && r < x.Length && r < _farads.Length; r++)
            into[r] += _farads[r] * x[r];
        var entries = _chargeEntries;
        for (int k = 0; k < entries.Length && _farads.Length == 0;)
        {
            int row = entries[k].Row;
            L sum = into[row];
            for (; k < entries.Length && entries[k].Row == row; k++)
                sum += _c[entries[k].Entry] * x[entries[k].Column];
            into[row] = sum;
        }
    }

    /// <summary>Finds the capacitance of each row's own unknown, where none lies between two of them or a known voltage.</summary>
    private void FillFarads()
    {
        foreach (var (row, column, _) in _chargeEntries)
        {
            if (row != column)
                return;
        }
        if (_farads.Length == 0)
            _farads = new L[At.X.Length];
        foreach (var (row, _, entry) in _chargeEntries)
            _farads[row] = _c[entry];
    }
}
