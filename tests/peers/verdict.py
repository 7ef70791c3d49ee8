"""Integrates the posterior of the cases that `verdict_peer_cases` printed, and compares.

The model is written down here a second time, from the description and not from the core's source:
bare shafts at 20 yd, s_j = fault + response n_j + noise, the noise pooled over all groups. Fault and
response are integrated by brute force over a plane, nothing in closed form.
"""

import json
import platform
import sys
import time

import numpy
from scipy.integrate import simpson

PRIOR_SD, PRIOR_DOF, BARE_RATIO = 0.60 * 25.4, 4.0, 1.5


def offset(case, fitted):
    """Nock-plane offset of a fitting, mm, positive right."""
    total = 0.0
    for axle in ("top", "bottom"):
        pair = next(p for p in case["kit"]["pairs"] if p["name"] == fitted[axle]["pair"])
        half = (pair["thick_mm"] - pair["thin_mm"]) / 2
        total += half if fitted[axle]["thick"] == "left" else -half
    return total / 2


def splits(case):
    """Offsets, splits and noise variances of the trials, sideways, mm."""
    groups = {"fletched": [], "bare": []}
    for trial in case["trials"]:
        for kind, found in groups.items():
            found.append(numpy.array([i["x_mm"] for i in trial["impacts"] if i["kind"] == kind]))
    scale = PRIOR_SD
    variance = {}
    for kind in ("fletched", "bare"):
        squares = PRIOR_DOF * scale**2 + sum(((g - g.mean()) ** 2).sum() for g in groups[kind])
        dof = PRIOR_DOF + sum(len(g) - 1 for g in groups[kind])
        variance[kind] = squares / (dof - 2)
        scale = numpy.sqrt(squares / dof) * BARE_RATIO
    n, s, v = [], [], []
    for j, trial in enumerate(case["trials"]):
        split = groups["bare"][j].mean() - groups["fletched"][j].mean()
        reading = trial["reading"]
        n.append(offset(case, trial["fitted"]))
        s.append(split)
        noise = sum(variance[k] / len(groups[k][j]) for k in groups)
        v.append(noise + reading["sd_mm"] ** 2 + (reading["scale_sd"] * split) ** 2)
    return numpy.array(n), numpy.array(s), numpy.array(v)


def response_density(u, p):
    """Prior density of the logarithm of the response's size."""
    away = u - numpy.log(p["median"])
    normal = lambda sd: numpy.exp(-0.5 * (away / sd) ** 2) / sd
    return (1 - p["tail_share"]) * normal(p["log_sd"]) + p["tail_share"] * normal(p["tail_log_sd"])


def brute_force(n, s, v, p):
    """Moments of fault and response over a plane of 2 x 6001 x 1201 points."""
    u = numpy.log(p["median"]) + numpy.linspace(-8, 8, 6001) * p["tail_log_sd"]
    total = numpy.zeros(6)
    logs = []
    planes = []
    for sign, share in ((1, p["right_way"]), (-1, 1 - p["right_way"])):
        g = sign * numpy.exp(u)
        # The fault's conditional place only centres the window; its weight is integrated.
        weight = (1 / v).sum() + p["fault_sd"] ** -2
        centre = ((s[None, :] - g[:, None] * n[None, :]) / v).sum(axis=1) / weight
        fault = centre[:, None] + numpy.linspace(-9, 9, 1201)[None, :] / numpy.sqrt(weight)
        log = -0.5 * (fault / p["fault_sd"]) ** 2
        for nj, sj, vj in zip(n, s, v):
            log -= 0.5 * (sj - fault - g[:, None] * nj) ** 2 / vj
        with numpy.errstate(divide="ignore"):
            log += numpy.log(share * response_density(u, p))[:, None]
        planes.append((g, fault, log))
        logs.append(log.max())
    peak = max(logs)
    for g, fault, log in planes:
        density = numpy.exp(log - peak)
        step = fault[:, 1] - fault[:, 0]
        parts = [density, density * fault, density * fault**2]
        m0, m1, m2 = (simpson(part, dx=1.0, axis=1) * step for part in parts)
        total += [simpson(y, x=u) for y in (m0, m0 * g, m0 * g**2, m1, m2, m1 * g)]
    return total[1:] / total[0]


def believed(moments, offset_mm):
    """Mean and standard deviation of the split at an offset."""
    g1, g2, f1, f2, fg = moments
    mean = f1 + g1 * offset_mm
    return mean, numpy.sqrt(f2 + 2 * fg * offset_mm + g2 * offset_mm**2 - mean**2)


def plain(n, s, v, p, offsets):
    """The posterior on a grid of the response, written plainly: for its time."""
    u = numpy.log(p["median"]) + numpy.linspace(-5, 5, 2001) * p["tail_log_sd"]
    g = numpy.concatenate([numpy.exp(u), -numpy.exp(u)])
    share = numpy.concatenate([numpy.full(len(u), p["right_way"]), numpy.full(len(u), 1 - p["right_way"])])
    rows = numpy.ones((len(n), 1))
    precision = rows.T @ (rows / v[:, None]) + p["fault_sd"] ** -2
    left = s[None, :] - g[:, None] * n[None, :]
    fault = (left / v).sum(axis=1) / precision[0, 0]
    log = -0.5 * ((left**2 / v).sum(axis=1) - fault**2 * precision[0, 0])
    log += numpy.log(share * response_density(numpy.log(numpy.abs(g)), p))
    weight = numpy.exp(log - log.max())
    weight /= weight.sum()
    means = fault[None, :] + offsets[:, None] * g[None, :]
    mean = means @ weight
    return mean, numpy.sqrt(((means - mean[:, None]) ** 2) @ weight + 1 / precision[0, 0])


def main():
    with open(sys.argv[1]) as file:
        given = json.load(file)
    p = given["priors"]
    worst = 0.0
    for item in given["cases"]:
        case, response = item["case"], item["response"]
        moments = brute_force(*splits(case), p)
        sd = numpy.sqrt(moments[1] - moments[0] ** 2)
        off = [abs(response["mm_per_mm"] - moments[0]) / sd, abs(response["sd"] - sd) / sd]
        for option in item["options"]:
            mean, spread = believed(moments, option["offset_mm"])
            off += [abs(option["x_mm"] - mean) / spread, abs(option["sd_mm"] - spread) / spread]
        worst = max(worst, max(off))
    large = given["large"]
    n, s, v = splits(large)
    offsets = numpy.linspace(-1.3, 1.3, 36)
    started = time.perf_counter()
    for _ in range(50):
        plain(n, s, v, p, offsets)
    numpy_s = (time.perf_counter() - started) / 50
    print(f"{len(given['cases'])} cases, worst difference {worst:.5f} of a standard deviation (bar 0.01)")
    print(f"40 trials, 36 fittings, on {platform.machine()} {platform.processor()}:")
    print(f"  core, whole verdict with value of information  {given['verdict_s'] * 1e3:8.3f} ms")
    print(f"  NumPy {numpy.__version__}, posterior of one probe alone        {numpy_s * 1e3:8.3f} ms")
    return 0 if worst <= 0.01 else 1


if __name__ == "__main__":
    sys.exit(main())
