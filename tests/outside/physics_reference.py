"""Recomputes the physics of the core on random inputs with general reference libraries.

    pip install -r physics-requirements.txt
    python physics_reference.py OUT.json

The answers come from the libraries and from other formulations than the core's, so that a slip in
ours does not repeat itself here:
  flow through a restrictor   fluids: critical pressure, expansibility of an ISO nozzle of beta 0
  the two in series           scipy brentq on the pressure between, flows equal
  isentropic compression      fluids isentropic_T_rise_compression, solved for the pressure
  standard atmosphere         ambiance (ICAO Doc 7488), asked at the geometric height
  slider crank                scipy brentq on the distance between crank pin and piston pin
  units                       pint

The seed is fixed, so two runs with the same packages write the same file.
"""

import json
import math
import platform
import sys
from importlib.metadata import version

import ambiance
import fluids
import numpy
import pint
from scipy.optimize import brentq

SEED = 20261125
GAMMA = 1.4
GAS = 287.05287
UNITS = pint.UnitRegistry()
PSI = UNITS.Quantity(1, "psi").to("pascal").magnitude


def mass_flow(area, upstream, downstream, kelvin):
    """Mass flow of ideal air through a nozzle without losses, kg/s."""
    downstream = max(downstream, fluids.P_critical_flow(upstream, GAMMA))
    if downstream >= upstream:
        return 0.0
    # beta 1e-6: no velocity of approach.
    expansibility = fluids.nozzle_expansibility(
        D=1.0, Do=1e-6, P1=upstream, P2=downstream, k=GAMMA
    )
    density = upstream / (GAS * kelvin)
    return expansibility * area * math.sqrt(2 * density * (upstream - downstream))


def circle(diameter):
    return math.pi / 4 * diameter**2


def leak_downs(random, count):
    rows = []
    for _ in range(count):
        restrictor = random.uniform(0.5e-3, 3e-3)
        supply = random.uniform(30, 150) * PSI
        ambient = random.uniform(60e3, 105e3)
        celsius = random.uniform(-10, 40)
        ratio = 10 ** random.uniform(-0.7, 0.8)
        area = circle(restrictor)
        kelvin = celsius + 273.15

        def surplus(between):
            into = mass_flow(area, ambient + supply, between, kelvin)
            out = mass_flow(area * ratio, between, ambient, kelvin)
            return into - out

        between = brentq(surplus, ambient, ambient + supply, xtol=1e-9, rtol=1e-15)
        rows.append(
            {
                "restrictor_m": restrictor,
                "supply_pa": supply,
                "ambient_pa": ambient,
                "celsius": celsius,
                "ratio": ratio,
                "held_pa": between - ambient,
                "flow_kg_s": mass_flow(area, ambient + supply, between, kelvin),
            }
        )
    return rows


def compressions(random, count):
    rows = []
    for _ in range(count):
        ambient = random.uniform(60e3, 105e3)
        ratio = random.uniform(4, 24)
        exponent = random.uniform(1.05, 1.42)
        # The temperature rises by ratio^(n-1); the library turns that into a pressure.
        target = 300.0 * ratio ** (exponent - 1)

        def rise(log_pressure):
            end = fluids.isentropic_T_rise_compression(
                T1=300.0, P1=ambient, P2=ambient * math.exp(log_pressure), k=exponent
            )
            return end - target

        end = ambient * math.exp(brentq(rise, 0.1, 10.0, xtol=1e-15, rtol=1e-15))
        rows.append(
            {
                "ambient_pa": ambient,
                "ratio": ratio,
                "exponent": exponent,
                "gauge_pa": end - ambient,
            }
        )
    return rows


def slider_cranks(random, count):
    rows = []
    for _ in range(count):
        stroke = random.uniform(0.04, 0.15)
        rod = stroke * random.uniform(1.3, 2.5)
        closes = random.uniform(0, 100)
        ratio = random.uniform(6, 22)
        turned = math.radians(180 + closes)
        pin = numpy.array([math.sin(turned), math.cos(turned)]) * stroke / 2

        def misfit(height):
            return numpy.hypot(*(numpy.array([0.0, height]) - pin)) - rod

        piston = brentq(misfit, pin[1], pin[1] + 2 * rod, xtol=1e-15, rtol=1e-15)
        left = (stroke / 2 + rod - piston) / stroke
        swept = (ratio - 1) * left
        rows.append(
            {
                "stroke_m": stroke,
                "rod_m": rod,
                "closes_degrees": closes,
                "ratio": ratio,
                "stroke_left": left,
                "dynamic_ratio": swept + 1,
            }
        )
    return rows


def atmospheres(random, count):
    earth = 6356766.0  # m, nominal radius of ICAO Doc 7488
    rows = []
    for _ in range(count):
        # From sea level up: below it the package starts from figures rounded to five digits.
        height = random.uniform(0, 10900)
        there = ambiance.Atmosphere(earth * height / (earth - height))
        rows.append(
            {
                "height_m": height,
                "pressure_pa": float(there.pressure[0]),
                "kelvin": float(there.temperature[0]),
                "density_kg_m3": float(there.density[0]),
            }
        )
    return rows


def units(random, count):
    names = {"psi": "psi", "kPa": "kilopascal", "bar": "bar", "kgf/cm2": "kgf / cm ** 2"}
    rows = []
    for _ in range(count):
        value = random.uniform(0, 65)
        for ours, theirs in names.items():
            pascals = UNITS.Quantity(value, theirs).to("pascal").magnitude
            rows.append({"value": value, "unit": ours, "pascals": float(pascals)})
    return rows


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: physics_reference.py OUT.json")
    random = numpy.random.default_rng(SEED)
    packages = ["ambiance", "fluids", "numpy", "pint", "scipy"]
    document = {
        "made_by": "tests/outside/physics_reference.py",
        "python": platform.python_version(),
        "packages": {name: version(name) for name in packages},
        "seed": SEED,
        "leak_downs": leak_downs(random, 200),
        "compressions": compressions(random, 100),
        "slider_cranks": slider_cranks(random, 100),
        "atmospheres": atmospheres(random, 50),
        "units": units(random, 10),
    }
    with open(sys.argv[1], "w", encoding="utf-8") as out:
        json.dump(document, out, indent=1)
        out.write("\n")


if __name__ == "__main__":
    main()
