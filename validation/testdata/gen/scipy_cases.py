"""Writes ../scipy.json: cases whose expected values NumPy and SciPy compute.

Run with Debian 12's python3-scipy (SciPy 1.10.1, NumPy 1.24.2):

    /usr/bin/python3 scipy_cases.py > ../scipy.json

The schema is that of the cases in ../../vectors. The inputs are rounded, so
that the file holds them exactly; every expected value comes from a function of
NumPy or SciPy, none from the library under test.
"""

import json
import sys

import numpy as np
import scipy
from scipy import constants, integrate, interpolate, signal, stats
from scipy.spatial.transform import Rotation

rng = np.random.default_rng(20240229)
cases = []


def value(unit, x):
    x = np.asarray(x, float)
    return {"unit": unit, "value": x.tolist() if x.ndim else float(x)}


def want(output, unit, x, rel, reason, abs_=None):
    x = np.asarray(x, float)
    size = float(np.max(np.abs(x)))
    return {
        "output": output,
        "value": value(unit, x),
        "abs": rel * max(size, 1e-300) if abs_ is None else abs_,
        "reason": reason,
    }


def case(id_, quantity, operation, place, given, inputs, wants):
    cases.append({
        "id": "scipy/" + id_,
        "quantity": quantity,
        "operation": operation,
        "level": "reference library",
        "source": {
            "authors": "Virtanen et al.",
            "year": 2020,
            "title": "SciPy",
            "edition": f"{scipy.__version__} with NumPy {np.__version__}",
            "link": "doi 10.1038/s41592-019-0686-2",
            "place": place + ", testdata/gen/scipy_cases.py",
        },
        "given": given,
        "inputs": inputs,
        "wants": wants,
    })


ROUNDING = "rounding of float64 in another order of operations"

# --- Butterworth coefficients --------------------------------------------------

for order, cutoff, rate in [(2, 50, 1000), (2, 10, 100), (4, 50, 1000), (6, 30, 500), (8, 100, 1000)]:
    b, a = signal.butter(order, cutoff, fs=rate)
    case(f"butter-{order}-{cutoff}-{rate}", "low-pass coefficients", "low_pass_sections",
         "signal.butter", f"order {order}, {cutoff} Hz at {rate} Hz",
         {"order": value("1", order), "cutoff": value("Hz", cutoff), "rate": value("Hz", rate)},
         [want("cascade", "1", np.concatenate([b, a[1:]]), 1e-12, ROUNDING)])

# --- filtered signals ----------------------------------------------------------

# Something like a vertical force: quiet, a dip, a peak, noise, not zero at the
# ends.
t = np.arange(80) / 100
force = 800 - 250 * np.exp(-((t - 0.3) / 0.06) ** 2) + 700 * np.exp(-((t - 0.5) / 0.05) ** 2)
force = np.round(force + 5 * rng.standard_normal(t.size), 3)

for order, cutoff in [(2, 10), (4, 8), (6, 20)]:
    sos = signal.butter(order, cutoff, fs=100, output="sos")
    case(f"sosfilt-{order}-{cutoff}", "low-pass, forward", "low_pass_forward",
         "signal.sosfilt", f"order {order}, {cutoff} Hz at 100 Hz, at rest before the first sample",
         {"order": value("1", order), "cutoff": value("Hz", cutoff), "rate": value("Hz", 100),
          "signal": value("1", force)},
         [want("signal", "1", signal.sosfilt(sos, force), 1e-11, ROUNDING)])

for order, cutoff, padding in [(2, 10, 9), (2, 10, 40), (4, 8, 15), (4, 20, 60)]:
    # Both passes together have -3 dB at the cut-off when each has the gain
    # 2**-0.25 there: the correction of the cut-off, made on tan(pi fc/fs).
    warped = np.tan(np.pi * cutoff / 100) / (np.sqrt(2) - 1) ** (1 / (2 * order))
    single = 100 / np.pi * np.arctan(warped)
    sos = signal.butter(order, single, fs=100, output="sos")
    _, h = signal.sosfreqz(sos, [cutoff], fs=100)
    assert abs(abs(h[0]) ** 2 - np.sqrt(0.5)) < 1e-12
    case(f"sosfiltfilt-{order}-{cutoff}-{padding}", "low-pass, both ways", "low_pass_both_ways",
         "signal.sosfiltfilt, odd padding",
         f"order {order} each way, {cutoff} Hz (both ways together) at 100 Hz, {padding} samples of padding",
         {"order": value("1", order), "cutoff": value("Hz", cutoff), "rate": value("Hz", 100),
          "signal": value("1", force), "padding": value("1", padding)},
         [want("signal", "1", signal.sosfiltfilt(sos, force, padlen=padding), 1e-11, ROUNDING)])

# --- centre-of-pressure path ---------------------------------------------------

n, rate = 240, 60.0
x = np.round(0.02 + np.cumsum(rng.standard_normal(n)) * 4e-4, 6)
y = np.round(-0.01 + np.cumsum(rng.standard_normal(n)) * 3e-4 + 0.3 * (x - 0.02), 6)
dx, dy = x - x.mean(), y - y.mean()
r = np.hypot(dx, dy)
length = np.hypot(np.diff(x), np.diff(y)).sum()
duration = (n - 1) / rate
factor = 2 * stats.f.ppf(0.95, 2, n - 2) * (n - 1) * (n + 1) / (n * (n - 2))
area = np.pi * factor * np.sqrt(np.linalg.det(np.cov(x, y)))


def centroid(v):
    f, p = signal.welch(v, fs=rate, window="hann", nperseg=n // 2, noverlap=n // 4, detrend="constant")
    return integrate.trapezoid(f * p, f) / integrate.trapezoid(p, f), p.sum()


(fx, wx), (fy, wy) = centroid(x), centroid(y)
case("path", "centre-of-pressure path", "path_measures",
     "numpy.cov, stats.f, signal.welch, integrate.trapezoid", "a random walk of 240 points at 60 Hz",
     {"x": value("m", x), "y": value("m", y), "rate": value("Hz", rate)},
     [want(o, u, v, 1e-10, ROUNDING) for o, u, v in [
         ("mean_distance", "m", r.mean()), ("rms_distance", "m", np.sqrt(np.mean(r**2))),
         ("rms_x", "m", x.std()), ("rms_y", "m", y.std()),
         ("range_x", "m", np.ptp(x)), ("range_y", "m", np.ptp(y)),
         ("length", "m", length), ("mean_velocity", "m/s", length / duration),
         ("mean_frequency", "Hz", length / duration / (2 * np.pi * r.mean())),
         ("spectral_frequency", "Hz", (fx * wx + fy * wy) / (wx + wy)),
         ("ellipse_area", "m²", area)]])

for n in [10, 100, 748, 6000]:
    case(f"ellipse-factor-{n}", "prediction ellipse", "ellipse_factor", "stats.f.ppf", f"{n} pairs",
         {"n": value("1", n)},
         [want("factor", "1", 2 * stats.f.ppf(0.95, 2, n - 2) * (n - 1) * (n + 1) / (n * (n - 2)), 1e-10,
               "accuracy of the F quantile")])

# --- wrenches ------------------------------------------------------------------

f = np.round(rng.uniform(-200, 200, (4, 3)) + [0, 0, 500], 2)
p = np.round(rng.uniform(-0.4, 0.4, (4, 3)), 4)
p[:, 2] = 0
c = np.zeros((4, 3))
c[:, 2] = np.round(rng.uniform(-8, 8, 4), 3)
about = np.array([0.05, -0.1, 0.95])
total = f.sum(axis=0)
m = (np.cross(p - about, f) + c).sum(axis=0)
case("moment", "moment of a force", "moment", "numpy.cross", "four forces with free moments about a point 0.95 m up",
     {"forces": value("N", f), "points": value("m", p), "couples": value("N·m", c), "about": value("m", about)},
     [want("force", "N", total, 1e-13, ROUNDING), want("moment", "N·m", m, 1e-12, ROUNDING),
      want("size", "N·m", np.linalg.norm(m), 1e-12, ROUNDING)])

# The point and the free moment that leave the same moment about the origin:
# three equations with three unknowns.
for height in [0.0, 0.03]:
    m0 = (np.cross(p, f) + c).sum(axis=0)
    a = np.array([[0, total[2], 0], [-total[2], 0, 0], [total[1], -total[0], 1]])
    b = m0 - height * np.array([-total[1], total[0], 0])
    px, py, free = np.linalg.solve(a, b)
    name = "surface" if height == 0 else "raised"
    case("net-point-" + name, "net centre of pressure", "line_of_action", "numpy.linalg.solve",
         f"four forces with free moments, plane at {height} m",
         {"forces": value("N", f), "points": value("m", p), "couples": value("N·m", c),
          "height": value("m", height)},
         [want("point", "m", [px, py, height], 1e-12, ROUNDING, abs_=1e-12),
          want("free_moment", "N·m", free, 1e-10, ROUNDING)])

# Arms of a force with all three components, about a point over the plates.
net = np.array([35.0, -80.0, 900.0])
at = np.array([0.08, 0.17, 0.0])
twist = np.array([0, 0, 5.5])
r = at - about
turning = np.cross(r, net)
case("arms", "moment arm", "moment_arms", "numpy.cross, numpy.linalg.norm", "(35, −80, 900) N with a free moment of 5.5 N·m",
     {"forces": value("N", [net]), "points": value("m", [at]), "couples": value("N·m", [twist]),
      "centre": value("m", about), "free_moment": value("N·m", twist[2])},
     [want("frontal", "m", turning[0] / np.linalg.norm(net[[1, 2]]), 1e-12, ROUNDING),
      want("sagittal", "m", turning[1] / np.linalg.norm(net[[0, 2]]), 1e-12, ROUNDING),
      want("horizontal", "m", turning[2] / np.linalg.norm(net[[0, 1]]), 1e-12, ROUNDING),
      want("three_d", "m", np.linalg.norm(turning) / np.linalg.norm(net), 1e-12, ROUNDING)])

# Two feet: the parts about the net point, which comes from a linear system.
lead, trail = np.array([22.0, -71.0, 640.0]), np.array([-41.0, 23.0, 260.0])
pl, pt = np.array([0.06, 0.24, 0.0]), np.array([-0.03, -0.21, 0.0])
fl, ft = 3.25, -1.5
net = lead + trail
m0 = np.cross(pl, lead) + np.cross(pt, trail)
px, py, _ = np.linalg.solve([[0, net[2], 0], [-net[2], 0, 0], [net[1], -net[0], 1]], m0)
point = np.array([px, py, 0])
pivoting = (np.cross(pl - point, lead) + np.cross(pt - point, trail))[2]
ground = np.cross(point - about, net)
case("two-feet", "moments of two feet", "two_feet", "numpy.cross, numpy.linalg.solve", "two forces with free moments about a point 0.95 m up",
     {"lead_force": value("N", lead), "lead_point": value("m", pl), "lead_free": value("N·m", fl),
      "trail_force": value("N", trail), "trail_point": value("m", pt), "trail_free": value("N·m", ft),
      "centre": value("m", about)},
     [want("ground_force", "N·m", ground, 1e-12, ROUNDING), want("pivoting", "N·m", pivoting, 1e-11, ROUNDING),
      want("contact", "N·m", fl + ft, 1e-12, ROUNDING),
      want("moment", "N·m", np.cross(pl - about, lead) + np.cross(pt - about, trail) + [0, 0, fl + ft], 1e-12, ROUNDING)])

# A plane inclined by 50 degrees: turn its normal into the vertical and read the
# vertical component.
tilt = np.deg2rad(50.0)
total = np.array([95.0, -20.0, 62.0])
case("inclined-plane", "torque in an inclined plane", "torque_in_plane", "spatial.transform.Rotation", "(95, −20, 62) N·m, plane at 50°",
     {"moment": value("N·m", total), "inclination": value("rad", tilt)},
     [want("torque", "N·m", Rotation.from_euler("y", -tilt).apply(total)[2], 1e-12, ROUNDING)])

# --- plates anywhere in the laboratory -------------------------------------------

HALF = np.array([0.3, 0.2])
SIGNS = np.array([[1, 1], [-1, 1], [-1, -1], [1, -1]])

for kind, depth in [(2, 0.045), (4, 0.06), (3, 0.05)]:
    # Plate axes with z into the floor, turned about the vertical and tilted.
    turn = Rotation.from_euler("zyx", [37.0, 4.0, 180.0 - 3.0], degrees=True)
    centre = np.array([1.2, -0.7, 0.08])
    corners = np.round(centre + turn.apply(np.column_stack([SIGNS * HALF, np.zeros(4)])), 12)
    place = np.round(np.append(rng.uniform(-0.15, 0.15, 2), 0), 4)  # on the surface, plate axes
    push = np.array([60.0, -45.0, -820.0])  # reaction, plate axes: z is down
    couple = np.array([0, 0, 7.5])
    surface = np.cross(place, push) + couple
    inputs = {"type": value("1", kind), "corners": value("m", corners)}
    if kind == 3:
        # Four sensors at (±a, ±b, depth); solve their forces from the wrench.
        a, b = 0.25, 0.16
        sensors = np.column_stack([SIGNS * [a, b], np.full(4, depth)])
        # Channels: fx12 fx34 fy14 fy23 fz1 fz2 fz3 fz4; pairs act midway.
        points = np.array([(sensors[0] + sensors[1]) / 2, (sensors[2] + sensors[3]) / 2,
                           (sensors[0] + sensors[3]) / 2, (sensors[1] + sensors[2]) / 2, *sensors])
        axes = np.array([[1, 0, 0]] * 2 + [[0, 1, 0]] * 2 + [[0, 0, 1]] * 4)
        system = np.vstack([axes.T, np.cross(points, axes).T])
        channels = np.linalg.lstsq(system, np.concatenate([push, surface]), rcond=None)[0]
        inputs["origin"] = value("m", [a, b, -depth])
    else:
        origin = np.array([0.002, -0.001, -depth])  # measuring origin to surface centre
        about_origin = surface + np.cross(origin, push)
        channels = np.concatenate([push, about_origin])
        inputs["origin"] = value("m", origin)
        if kind == 4:
            matrix = np.diag([500.0, 500, 1000, 800, 400, 400]) + rng.uniform(-4, 4, (6, 6)).round(3)
            inputs["calibration"] = value("1", matrix)
            channels = np.linalg.solve(matrix, channels)
    inputs["channels"] = value("1", channels)
    lab_force = turn.apply(push)
    lab_point = centre + turn.apply(place)
    lab_moment = np.cross(centre, lab_force) + turn.apply(surface)
    case(f"plate-type-{kind}", "force plate", "plate", "spatial.transform.Rotation, numpy.linalg",
         f"type {kind}, turned by 37°, tilted by 4° and 3°, sensors {depth} m deep", inputs,
         [want("surface_force", "N", push, 1e-10, ROUNDING),
          want("surface_moment", "N·m", surface, 1e-10, ROUNDING),
          want("surface_point", "m", place[:2], 1e-10, "corners are rounded to 1e-12 m", abs_=1e-10),
          want("surface_free_moment", "N·m", couple[2], 1e-9, ROUNDING),
          want("force", "N", lab_force, 1e-9, "corners are rounded to 1e-12 m"),
          want("moment", "N·m", lab_moment, 1e-9, "corners are rounded to 1e-12 m"),
          want("point", "m", lab_point, 1e-9, "corners are rounded to 1e-12 m")])

# --- impulse and motion ----------------------------------------------------------

n, rate = 60, 200.0
f = np.round(rng.uniform(-300, 300, (n, 3)) + [0, 0, 800], 2)
m = np.round(rng.uniform(-100, 100, (n, 3)), 2)
case("impulse", "impulse", "impulse", "integrate.trapezoid", "60 random samples at 200 Hz",
     {"forces": value("N", f), "moments": value("N·m", m), "rate": value("Hz", rate)},
     [want("linear", "N·s", integrate.trapezoid(f, dx=1 / rate, axis=0), 1e-12, ROUNDING),
      want("angular", "N·m·s", integrate.trapezoid(m, dx=1 / rate, axis=0), 1e-12, ROUNDING)])

g, quiet, rate = constants.g, 0.25, 200.0
n = 140
t = np.arange(n) / rate
f = np.zeros((n, 3))
f[:, 2] = 736.5
moving = t > quiet
f[moving] += np.round(rng.uniform(-120, 120, (moving.sum(), 3)), 2)
mass = 736.5 / g
a = f / mass - [0, 0, g]
line = interpolate.make_interp_spline(t, a, k=1)
instant = 0.6125
velocity = line.antiderivative(1)
position = velocity.antiderivative(1)
v, d = velocity(instant) - velocity(0), position(instant) - position(0) - velocity(0) * instant
case("motion", "motion from forces", "motion", "interpolate.BSpline.antiderivative",
     "quiet for 0.25 s, then random forces at 200 Hz, straight lines between samples",
     {"forces": value("N", f), "rate": value("Hz", rate), "gravity": value("m/s²", g),
      "quiet": value("s", quiet), "height": value("m", 0.9), "instant": value("s", instant)},
     [want("mass", "kg", mass, 1e-12, ROUNDING), want("velocity", "m/s", v, 1e-9, ROUNDING, abs_=1e-11),
      want("rise", "m", d, 1e-9, ROUNDING, abs_=1e-11)])

# --- statistics ------------------------------------------------------------------

a = np.round(rng.normal(700, 120, 15), 1)
b = np.round(a + rng.normal(3, 9, 15), 1)
d = a - b
z = stats.norm.ppf(0.975)
low, high = stats.t.interval(0.95, d.size - 1, d.mean(), stats.sem(d))
case("limits", "limits of agreement", "limits_of_agreement", "stats.norm, stats.t, stats.sem", "15 pairs of loads",
     {"a": value("1", a), "b": value("1", b)},
     [want(o, "1", v, 1e-9, ROUNDING) for o, v in [
         ("bias", d.mean()), ("sd", d.std(ddof=1)), ("lower", d.mean() - z * d.std(ddof=1)),
         ("upper", d.mean() + z * d.std(ddof=1)), ("bias_low", low), ("bias_high", high)]])

# One-way analysis by f_oneway: its F is the ratio of the two mean squares.
ratings = np.round(rng.normal(0, 2, (7, 1)) + rng.normal(0, 1, (7, 4)) + [0, 0.5, -0.5, 1], 2)
between = 4 * ratings.mean(axis=1).var(ddof=1)
within = ratings.var(axis=1, ddof=1).mean()
assert abs(stats.f_oneway(*ratings).statistic - between / within) < 1e-9
residual = ratings - ratings.mean(axis=1, keepdims=True) - ratings.mean(axis=0) + ratings.mean()
case("mean-squares", "analysis of variance", "analysis_of_variance", "numpy.var, checked with stats.f_oneway",
     "7 targets by 4 raters",
     {"ratings": value("1", ratings)},
     [want("between", "1", between, 1e-11, ROUNDING), want("within", "1", within, 1e-11, ROUNDING),
      want("judges", "1", 7 * ratings.mean(axis=0).var(ddof=1), 1e-11, ROUNDING),
      want("error", "1", (residual**2).sum() / (6 * 3), 1e-11, ROUNDING)])

jacobian = np.round(rng.normal(0, 1, (3, 4)), 3)
root = rng.normal(0, 1, (4, 4))
covariance = np.round(root @ root.T, 3)
out = jacobian @ covariance @ jacobian.T
sd = np.sqrt(np.diag(out))
case("propagate", "uncertainty", "propagate", "NumPy matrix product", "three results of four correlated inputs",
     {"jacobian": value("1", jacobian), "covariance": value("1", covariance)},
     [want("uncertainties", "1", sd, 1e-11, ROUNDING), want("correlations", "1", out / np.outer(sd, sd), 1e-11, ROUNDING)])

json.dump({"scipy": scipy.__version__, "numpy": np.__version__, "cases": cases}, sys.stdout, ensure_ascii=False, indent=1)
print()
