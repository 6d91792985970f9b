"""A zener with its slope, leakage and temperature coefficient behind 1 kohm, at three temperatures, by Brent's method."""

import numpy as np
from reference import Diode, write

ZENER = {
    "SaturationAmps": 5e-15, "EmissionCoefficient": 1.1, "ActivationVolts": 1.02, "TemperatureExponent": 2.7, "SeriesOhms": 4.0, "BreakdownVolts": 6.2,
    "BreakdownAmps": 5e-3, "BreakdownSlopeVolts": 0.035, "LeakageSiemens": 1e-9, "BreakdownTempCo": 3.5e-4,
}
OHMS = 1000.0


def make():
    rows = []
    for celsius in (-40.0, 25.0, 85.0):
        part = Diode(ZENER, celsius)
        behind = Diode(ZENER | {"SeriesOhms": ZENER["SeriesOhms"] + OHMS}, celsius)
        for volts in np.linspace(-2, 20, 45):
            volts = round(float(volts), 12)
            # Cathode towards the source: positive volts are reverse volts.
            amps = -behind.current_across(-volts)
            rows.append((celsius, volts, volts - OHMS * amps, amps))
    write("zener_temperature", "Zener behind 1 kohm at three temperatures", {"Ohms": OHMS} | {f"zener.{k}": v for k, v in ZENER.items()}, {},
          dict(zip(("celsius_C", "source_V", "cathode_V", "amps_A"), zip(*rows))))


if __name__ == "__main__":
    make()
