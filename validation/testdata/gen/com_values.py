"""Writes the expected values of the cases on the walk and the run.

    GRF_DATASETS=FOLDER /usr/bin/python3 com_values.py OUTPUT

reads com/walk and com/run below FOLDER and writes com/walk/oracle and
com/run/oracle below OUTPUT, which may be the same folder:

    cop_and_moment.csv   net force, centre of pressure, free moment and moment
                         about both centres of mass, by numpy.cross
    *_estimates.csv      fb: the procedure of Le Mouel, Peer Community J. 5:e10
                         (2025), with its defaults; rts: the estimate that a
                         Rauch-Tung-Striebel smoother makes, found without any
                         recursion as the least-squares solution of all
                         equations of the record at once, by scipy.linalg
    summary.json         gains from the algebraic Riccati equation
                         (scipy.linalg.solve_discrete_are), and the paper's
                         flight measure, by numpy.diff and numpy.median
"""

import json
import os
import sys

import numpy as np
from scipy import linalg

FORCE_SD, POSITION_SD = 2.0, 0.002  # N, m: the paper's defaults


def table(path):
    return np.genfromtxt(path, delimiter=",", names=True)


def columns(t, *names):
    return np.column_stack([t[n] for n in names])


def gains(mass, rate):
    period = 1 / rate
    phi, seen = np.array([[1, period], [0, 1]]), np.array([[1.0, 0]])
    push = np.array([[period**2 / 2], [period]])
    noise = push @ push.T * (FORCE_SD / mass) ** 2
    p = linalg.solve_discrete_are(phi.T, seen.T, noise, [[POSITION_SD**2]])
    k = p @ seen.T / (seen @ p @ seen.T + POSITION_SD**2)
    return float(k[0, 0]), float(k[1, 0]) * period


def least_squares(a, z, mass, rate):
    """The state at the first instant and the noise of every force are the
    unknowns, in units of their standard deviations; position k is
    p0 + k T v0 + sum over j < k of T^2 (k - j - 1/2) (a_j + noise_j)."""
    n, period = len(z), 1 / rate
    k, j = np.arange(n)[:, None], np.arange(n - 1)[None, :]
    way = np.where(j < k, period**2 * (k - j - 0.5), 0)
    speed = np.where(j < k, period, 0.0)
    one, none = np.ones((n, 1)), np.zeros((n, 1))
    position = np.hstack([one, k * period, way * FORCE_SD / mass])
    velocity = np.hstack([none, one, speed * FORCE_SD / mass])
    known_p, known_v = z[0] + way @ a[:-1], speed @ a[:-1]
    rows = np.vstack([np.eye(n + 1), position / POSITION_SD])
    right = np.vstack([np.zeros((n + 1, z.shape[1])), (z - known_p) / POSITION_SD])
    q, r = linalg.qr(rows, mode="economic")
    x = linalg.solve_triangular(r, q.T @ right)
    spread = lambda h: np.linalg.norm(linalg.solve_triangular(r, h.T, trans="T"), axis=0)
    return known_p + position @ x, known_v + velocity @ x, spread(position), spread(velocity)


def published(a, z, mass, rate):
    l1, l2 = gains(mass, rate)
    period = 1 / rate

    def run(a, z):
        p, v = np.empty_like(z), np.empty_like(z)
        line = np.polynomial.polynomial.polyfit(np.arange(10) * period, z[:10], 1)
        p[0], v[0] = line
        for k in range(len(z) - 1):
            ahead = p[k] + period * v[k] + period**2 / 2 * a[k]
            e = z[k + 1] - ahead
            p[k + 1] = ahead + l1 * e
            v[k + 1] = v[k] + period * a[k] + l2 / period * e
        return p, v

    p, v = run(a, z)
    bp, bv = run(a[::-1], z[::-1])
    return (p + bp[::-1]) / 2, (v - bv[::-1]) / 2


def flight(p, times, rate, intervals, g):
    a = np.diff(p, 2, axis=0) * rate**2 + [0, 0, g]
    t = times[1:-1]
    inside = np.any([(t >= lo) & (t <= hi) for lo, hi in intervals], axis=0)
    return float(100 * np.linalg.norm(np.median(a[inside], axis=0)) / g), int(inside.sum())


def save(path, names, data):
    with open(path, "w") as f:
        f.write(",".join(names) + "\n")
        for row in data:
            f.write(",".join("%.9g" % x for x in row) + "\n")


def axes(prefix):
    return [prefix + s for s in "xyz"]


def moments(folder, out, times, kinematic, smooth):
    t = table(os.path.join(folder, "grf.csv"))
    force_rate, rate = round(1 / (t["t"][1] - t["t"][0])), round(1 / (times[1] - times[0]))
    rows = []
    for i, at in enumerate(times):
        k = i * force_rate // rate
        force, moment = np.zeros(3), np.zeros(3)
        for side in "RL":
            f, p = columns(t, *axes(side + "F"))[k], columns(t, *axes(side + "P"))[k]
            force += f
            moment += np.cross(p, f) + [0, 0, t[side + "Tz"][k]]
        if not force[2] > 50:
            continue
        point = np.array([-moment[1], moment[0], 0]) / force[2]
        free = (moment - np.cross(point, force))[2]
        row = [at, *force, *point[:2], free]
        for centre in (kinematic[i], smooth[i]):
            row += list(np.cross(point - centre, force) + [0, 0, free])
        rows.append(row)
    save(os.path.join(out, "cop_and_moment.csv"),
         ["t", *axes("F"), "copx", "copy", "Tz", *axes("tau_kin_"), *axes("tau_rts_")], rows)


def main(source, target):
    for name in ("walk", "run"):
        folder, out = os.path.join(source, "com", name), os.path.join(target, "com", name, "oracle")
        os.makedirs(out, exist_ok=True)
        with open(os.path.join(folder, "trial.json")) as f:
            trial = json.load(f)
        mass, g, rate = trial["mass_kg"], trial["g"], trial["com_rate_hz"]
        t = table(os.path.join(folder, "grf.csv"))
        if name == "walk":
            force = columns(t, *axes("F"))
        else:
            force = columns(t, *axes("RF")) + columns(t, *axes("LF"))
        c = table(os.path.join(folder, "com_kinematic.csv"))
        z = columns(c, *axes(""))
        block = trial["force_rate_hz"] // rate
        n = min(len(z), len(force) // block)
        force = force[: n * block].reshape(n, block, 3).mean(axis=1)
        z, times = z[:n], np.arange(n) / rate
        a = force / mass - [0, 0, g]
        fp, fv = published(a, z, mass, rate)
        p, v, sp, sv = least_squares(a, z, mass, rate)
        three = lambda s: np.repeat(s[:, None], 3, axis=1)
        names = ["t"]
        for prefix in ("acc_", "kin_", "fb_pos_", "fb_vel_", "rts_pos_", "rts_vel_", "rts_sdpos_", "rts_sdvel_"):
            names += axes(prefix)
        save(os.path.join(out, name + "_estimates.csv"), names,
             np.hstack([times[:, None], a, z, fp, fv, p, v, three(sp), three(sv)]))
        figures = {"n": n, "fs": rate, "mass": mass, "gains_l1_l2_per_axis": [list(gains(mass, rate))] * 3}
        intervals = trial.get("flight_intervals_s")
        if intervals:
            paths = {"kin": z, "fb": fp, "rts": p}
            found = {k: flight(x, times, rate, intervals, g) for k, x in paths.items()}
            figures["flight_samples"] = found["kin"][1]
            figures["flight"] = {k: {"median_error_amplitude_pct_g": x[0]} for k, x in found.items()}
            moments(folder, out, times, z, p)
            figures = {"mass_%g" % mass: figures}
        with open(os.path.join(out, "summary.json"), "w") as f:
            json.dump(figures, f, indent=1)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(os.environ["GRF_DATASETS"], sys.argv[1])
