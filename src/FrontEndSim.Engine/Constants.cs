namespace FrontEndSim.Engine;

/// <summary>Physical constants and the reference temperature of the engine's models.</summary>
public static class Constants
{
    /// <summary>Boltzmann constant, J/K: exact since the 2019 SI (CODATA 2018).</summary>
    public const double Boltzmann = 1.380649e-23;

    /// <summary>Elementary charge, C: exact since the 2019 SI (CODATA 2018).</summary>
    public const double ElementaryCharge = 1.602176634e-19;

    /// <summary>0 °C in kelvin.</summary>
    public const double ZeroCelsius = 273.15;

    /// <summary>25 °C in kelvin, at which part values are stated.</summary>
    public const double ReferenceKelvin = ZeroCelsius + 25;

    /// <summary>The thermal voltage k·T/q, V, at a temperature in kelvin (25.69 mV at 25 °C).</summary>
    public static double ThermalVolts(double kelvin) => Boltzmann * kelvin / ElementaryCharge;
}
