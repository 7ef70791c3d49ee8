"""Integrates the posterior of the cases that `verdict_peer_cases` printed, and compares.

The model is written down here a second time, from the description and not from the core's source:
bare shafts at 20 yd, s_j = fault + response (n_j - n_0) + rest (r_j - r_0) + noise, with the offset and
the rest's place of the first trial as the start, the noise pooled over all groups of both kinds and
axes, and the response's prior narrowed by what other bows of the family showed. Fault, rest and
response are integrated by brute force, the family's median and its share of right-way bows on grids,
nothing in closed form.
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


def scatter(trials):
    """Sideways variance of one arrow of each kind, mm^2, and its degrees of freedom.

    Every sum of squares is taken against its kind's prior variance. The other kind and the other axis
    tell the shooter's level, and by it where the prior stands and what it is worth.
    """
    unit = {"fletched": PRIOR_SD**2, "bare": (PRIOR_SD * BARE_RATIO) ** 2}
    squares, freedom = {}, {}
    for kind in unit:
        for axis in ("x_mm", "y_mm"):
            groups = [numpy.array([i[axis] for i in t["impacts"] if i["kind"] == kind]) for t in trials]
            squares[kind, axis] = sum(((g - g.mean()) ** 2).sum() for g in groups) / unit[kind]
            freedom[kind, axis] = sum(len(g) - 1 for g in groups)
    variance, dof = {}, {}
    for kind in unit:
        own = (kind, "x_mm")
        others = sum(squares.values()) - squares[own]
        others_dof = sum(freedom.values()) - freedom[own]
        level = (PRIOR_DOF + others) / (PRIOR_DOF + others_dof)
        worth = PRIOR_DOF + others_dof / (PRIOR_DOF + others_dof)
        dof[kind] = worth + freedom[own]
        variance[kind] = unit[kind] * (worth * level + squares[own]) / dof[kind]
    return variance, dof


def splits(case, trials):
    """Offsets and rests from the first trial's, splits and noise variances, sideways, mm."""
    groups = {"fletched": [], "bare": []}
    for trial in trials:
        for kind, found in groups.items():
            found.append(numpy.array([i["x_mm"] for i in trial["impacts"] if i["kind"] == kind]))
    variance, freedom = scatter(trials)
    n, r, s, v = [], [], [], []
    for j, trial in enumerate(trials):
        split = groups["bare"][j].mean() - groups["fletched"][j].mean()
        reading = trial["reading"]
        n.append(offset(case, trial["fitted"]))
        r.append(trial["rest_mm"])
        s.append(split)
        parts = {k: variance[k] / len(groups[k][j]) for k in groups}
        total = sum(parts.values())
        dof = total**2 / sum(parts[k] ** 2 / freedom[k] for k in groups)
        noise = total * dof / (dof - 2)
        v.append(noise + reading["sd_mm"] ** 2 + (reading["scale_sd"] * split) ** 2)
    n, r = numpy.array(n), numpy.array(r)
    return n - n[0], r - r[0], numpy.array(s), numpy.array(v)


def lognormal(u, middle, sd):
    return numpy.exp(-0.5 * ((u - middle) / sd) ** 2) / sd


def response_density(u, p):
    """Prior density of the logarithm of the response's size, without relatives."""
    middle = numpy.log(p["median"])
    tail = p["tail_share"] * lognormal(u, middle, p["tail_log_sd"])
    return (1 - p["tail_share"]) * lognormal(u, middle, p["log_sd"]) + tail


def sides_density(u, p, relatives):
    """Prior density on the right-way and the wrong-way side, after what relatives showed."""
    if not relatives:
        return p["right_way"] * response_density(u, p), (1 - p["right_way"]) * response_density(u, p)
    middle = numpy.log(p["median"])
    mu = middle + p["family_log_sd"] * numpy.linspace(-4, 4, 81)
    share = (numpy.arange(2000) + 0.5) / 2000
    alpha, beta = p["family_right_way"]
    weight = numpy.exp(-0.5 * ((mu - middle) / p["family_log_sd"]) ** 2)[:, None]
    weight = weight * (share ** (alpha - 1) * (1 - share) ** (beta - 1))[None, :]
    fine = numpy.linspace(middle - 7, middle + 7, 7001)
    for data in relatives:
        right, wrong = (numpy.exp(log) for log in likelihoods(fine, data, p))
        own = (1 - p["tail_share"]) * lognormal(fine[None, :], mu[:, None], p["within_log_sd"])
        own = own + p["tail_share"] * lognormal(fine, middle, p["tail_log_sd"])[None, :]
        of = lambda side: simpson(own * side[None, :], x=fine, axis=1)[:, None]
        weight = weight * (share[None, :] * of(right) + (1 - share)[None, :] * of(wrong))
    weight /= weight.sum()
    own = lognormal(u[:, None], mu[None, :], p["within_log_sd"])
    tail = lognormal(u, middle, p["tail_log_sd"]) * p["tail_share"]
    right, wrong = (weight * share).sum(axis=1), (weight * (1 - share)).sum(axis=1)
    mix = lambda side: (1 - p["tail_share"]) * own @ side + tail * side.sum()
    return mix(right), mix(wrong)


def likelihoods(u, data, p):
    """Log-likelihood of a response of each size and sign; the rest of the unknowns summed out."""
    sides = [numpy.log(summed(sign * numpy.exp(u), data, p)[0]) for sign in (1, -1)]
    peaks = [summed(sign * numpy.exp(u), data, p)[1] for sign in (1, -1)]
    top = max(peak.max() for peak in peaks)
    return [side + peak - top for side, peak in zip(sides, peaks)]


def summed(g, data, p):
    """Likelihood times prior of fault and rest, summed over a plane of them for each response: the
    sum, the log it is scaled by, and the moments of fault + rest x (last place)."""
    n, r, s, v = data
    still = numpy.abs(r).max() < 1e-9
    rows = numpy.stack([numpy.ones(len(n)), r])
    prior = numpy.array([p["fault_sd"], p["rest_sd"]])
    # The Gaussian's place and shape only lay the plane's points; their weights are summed.
    precision = (rows / v) @ rows.T + numpy.diag(prior**-2.0)
    left = s[None, :] - g[:, None] * n[None, :]
    centre = numpy.linalg.solve(precision, (rows / v) @ left.T).T
    lower = numpy.linalg.cholesky(numpy.linalg.inv(precision))
    steps = numpy.linspace(-8, 8, 65)
    a, b = (m.ravel() for m in numpy.meshgrid(steps, steps, indexing="ij"))
    away = lower @ numpy.stack([a, b])
    sums, scale, first, second = [], [], [], []
    for k in range(len(g)):
        fault, rest = centre[k][0] + away[0], centre[k][1] + away[1]
        log = -0.5 * ((fault / prior[0]) ** 2 + (rest / prior[1]) ** 2)
        for nj, rj, sj, vj in zip(n, r, s, v):
            log -= 0.5 * (sj - fault - rest * rj - g[k] * nj) ** 2 / vj
        top = log.max()
        weight = numpy.exp(log - top)
        total = weight.sum()
        stands = fault + (0.0 if still else rest * r[-1])
        sums.append(total)
        scale.append(top)
        first.append((weight * stands).sum() / total)
        second.append((weight * stands**2).sum() / total)
    return numpy.array(sums), numpy.array(scale), numpy.array(first), numpy.array(second)


def brute_force(data, relatives, p):
    """Moments of the response and of the bow as it stands."""
    u = numpy.log(p["median"]) + numpy.linspace(-8, 8, 2561) * p["tail_log_sd"]
    densities = sides_density(u, p, relatives)
    sides = []
    for sign, density in zip((1, -1), densities):
        g = sign * numpy.exp(u)
        sums, scale, first, second = summed(g, data, p)
        with numpy.errstate(divide="ignore"):
            sides.append((g, numpy.log(sums) + scale + numpy.log(density), first, second))
    peak = max(log.max() for _, log, _, _ in sides)
    total = numpy.zeros(6)
    for g, log, first, second in sides:
        w = numpy.exp(log - peak)
        parts = (w, w * g, w * g**2, w * first, w * second, w * first * g)
        total += [simpson(part, x=u) for part in parts]
    return total[1:] / total[0]


def believed(moments, offset_mm):
    """Mean and standard deviation of the split, so far from the offset of the first trial."""
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
        others = [splits(case, other["trials"]) for other in case["relatives"]]
        moments = brute_force(splits(case, case["trials"]), others, p)
        start = offset(case, case["trials"][0]["fitted"])
        sd = numpy.sqrt(moments[1] - moments[0] ** 2)
        off = [abs(response["mm_per_mm"] - moments[0]) / sd, abs(response["sd"] - sd) / sd]
        for option in item["options"]:
            mean, spread = believed(moments, option["offset_mm"] - start)
            off += [abs(option["x_mm"] - mean) / spread, abs(option["sd_mm"] - spread) / spread]
        worst = max(worst, max(off))
    large = given["large"]
    n, _, s, v = splits(large, large["trials"])
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
