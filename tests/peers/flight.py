"""Flies the cases that `flight_cases` printed with SciPy and compares.

The equations are written down here a second time, from the model's description and not from the
core's source, so that a slip in either shows.
"""

import json
import platform
import sys
import time

import numpy
import scipy
from scipy.integrate import solve_ivp

PANELS = 60
OGIVE_CENTRE = 0.466


def equations(b):
    """Right-hand side for one body, and where point and nock are along the shaft."""
    area = numpy.pi * b["diameter_m"] ** 2 / 4
    rho, d, cg = b["density_kg_m3"], b["diameter_m"], b["balance_m"]
    stations = [(b["nose_slope"], b["length_m"] + b["nose_m"] * (1 - OGIVE_CENTRE) - cg)]
    stations += [(slope, place - cg) for slope, place in b["fins"]]
    edges = numpy.linspace(-cg, b["length_m"] - cg, PANELS + 1)
    middle = (edges[1:] + edges[:-1]) / 2
    width = b["length_m"] / PANELS

    def rates(_, s):
        _, _, vx, vy, th, om = s
        c, sn = numpy.cos(th), numpy.sin(th)
        along, across = vx * c + vy * sn, -vx * sn + vy * c
        w = across + om * middle
        v = numpy.hypot(along, w)
        sine = numpy.abs(w) / v
        load = b["cross_drag"] * sine**2 + numpy.pi * b["friction"] * sine
        slices = -numpy.sign(w) * 0.5 * rho * d * v**2 * load * width
        force, moment = slices.sum(), (slices * middle).sum()
        for slope, xi in stations:
            push = -0.5 * rho * area * slope * along * (across + om * xi)
            force, moment = force + push, moment + push * xi
        drag = 0.5 * rho * area * b["drag_coefficient"] * along * abs(along)
        ax = (-drag * c - force * sn) / b["mass_kg"]
        ay = (-drag * sn + force * c) / b["mass_kg"]
        return [vx, vy, ax, ay, om, moment / b["inertia_kgm2"]]

    return rates, b["length_m"] + b["nose_m"] - cg, -cg


def passages(case, solution, ends):
    """Sideways places of point and nock at each plane."""
    def place(t, xi):
        x, y, _, _, th, _ = solution.sol(t)
        return x + xi * numpy.cos(th), y + xi * numpy.sin(th)

    for plane in case["distances_m"]:
        found = []
        for xi in ends:
            gap = lambda t: place(t, xi)[0] - plane
            found.append(place(scipy.optimize.brentq(gap, 0, solution.t[-1], xtol=1e-15), xi)[1])
        yield found[0] * 1e3, (found[1] - found[0]) * 1e3


def fly(case):
    rates, point, nock = equations(case["body"])
    launch = case["launch"]
    start = [case["body"]["balance_m"], 0, launch["speed_mps"], 0, launch["yaw_rad"], launch["rate_radps"]]
    last = case["distances_m"][-1]
    arrived = lambda _, s: s[0] + nock * numpy.cos(s[4]) - last - 1e-6
    arrived.terminal = True
    solution = solve_ivp(rates, (0, 10), start, method="DOP853", rtol=1e-10, atol=1e-12,
                         events=arrived, dense_output=True)
    return list(passages(case, solution, (point, nock)))


def main():
    data = json.load(open(sys.argv[1]))
    cases = data["cases"]
    began = time.perf_counter()
    theirs = [fly(case) for case in cases]
    seconds = (time.perf_counter() - began) / len(cases)
    worst = {}
    for case, flights in zip(cases, theirs):
        for ours, (point_mm, tear_mm) in zip(case["ours"], flights):
            key = ours["distance_m"]
            off = abs(ours["point_mm"] - point_mm), abs(ours["tear_mm"] - tear_mm)
            worst[key] = tuple(map(max, worst.get(key, (0, 0)), off))
    print(f"{len(cases)} flights on {platform.machine()}, SciPy {scipy.__version__}, NumPy {numpy.__version__}")
    print("distance    worst point difference    worst tear difference")
    for distance, (point, tear) in sorted(worst.items()):
        print(f"{distance:7.3f} m  {point:16.2e} mm  {tear:20.2e} mm")
    print(f"per flight: core {data['seconds_per_flight'] * 1e6:.0f} us, SciPy {seconds * 1e6:.0f} us")
    missed = [d for d, off in worst.items() if max(off) > (0.05 if d > 30 else 0.01)]
    if missed:
        sys.exit(f"differs too much at {missed} m")


main()
