using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>What is driven by a quantity through a characteristic: it moves with time and with sweeps, so its slope is never
/// constant.</summary>
internal abstract class SensingDevice<L>(Element part, Waveform quantity, Characteristic law) : Device<L>(part), IDrive<L>
    where L : struct, ILane<L>
{
    private L? _held;

    /// <summary>The characteristic at the temperature of the circuit.</summary>
    protected Characteristic.Evaluation<L> Law { get; } = new(law);

    public IEnumerable<Waveform> Waveforms => [quantity];

    public override bool IsNonlinear => true;

    public void Hold(L value) => _held = value;

    public L Value(double t) => _held ?? L.Of(quantity.At(t));

    public abstract void AddSensitivity(Iterate<L> at, L[] f);

    public override void Refresh(double kelvin) => Law.Refresh(kelvin);

    public override ref L Number(Parameter parameter)
    {
        if (Law.Holds(parameter))
            return ref Law.Error(parameter);
        return ref base.Number(parameter);
    }
}
