"""The chain of package phase/batch in NumPy and SciPy, as somebody would write it
who knows both well: outputs preallocated, arrays channel-major, everything linear
folded into one matrix and one constant for each plate before or behind the filter.

It is started by the program in this folder and answers one JSON line to each line
that it reads: see the loop at the end.
"""

import json
import sys
import time

import numpy as np
import scipy
from scipy import signal


def frame(corners):
    """Axes (as columns) and centre of a plate from its corners, in C3D's order."""
    c = np.asarray(corners)
    x = c[0] + c[3] - c[1] - c[2]
    x /= np.linalg.norm(x)
    z = np.cross(x, c[0] + c[1] - c[2] - c[3])
    z /= np.linalg.norm(z)
    return np.column_stack([x, np.cross(z, x), z]), c.mean(axis=0)


def cross_matrix(r):
    return np.array([[0, -r[2], r[1]], [r[2], 0, -r[0]], [-r[1], r[0], 0]])


class Setup:
    """The laboratory: what turns volts into wrenches about the origin of the swing
    axes, from first principles."""

    def __init__(self, p):
        up, target = np.array(p["up"]), np.array(p["target"])
        z = up / np.linalg.norm(up)
        y = target - (target @ z) * z
        y /= np.linalg.norm(y)
        axes = np.stack([np.cross(y, z), y, z])  # rows: swing axes in the laboratory
        self.matrix = np.empty((2, 6, 6))
        for k, plate in enumerate(p["plates"]):
            turn, centre = frame(plate["corners"])
            turn = axes @ turn  # plate axes → swing axes
            at = axes @ (centre - np.array(p["origin"])) - turn @ np.array(plate["origin"])  # of the measuring origin
            move = np.zeros((6, 6))
            move[:3, :3] = move[3:, 3:] = turn
            move[3:, :3] = cross_matrix(at) @ turn
            self.matrix[k] = -move @ np.array(plate["calibration"])  # the plates report the push on them
        self.zero = np.array(p["zero"]).reshape(2, 6, 1)
        self.constant = self.matrix @ self.zero
        self.rate, self.cutoff = p["rate"], p["cutoff"]
        self.least, self.mass, self.gravity = p["least"], p["mass"], p["gravity"]
        self.start = np.array(p["start"]).reshape(3, 1)
        self.sos = signal.butter(4, self.cutoff, fs=self.rate, output="sos")
        self.ba = signal.butter(4, self.cutoff, fs=self.rate)

    def sosfiltfilt(self, x):
        return signal.sosfiltfilt(self.sos, x, axis=-1)

    def filtfilt(self, x):
        return signal.filtfilt(*self.ba, x, axis=-1)


class Chain:
    """The chain for recordings of n samples. Wrenches are rows of [plate 0, plate 1,
    net][force, moment]."""

    def __init__(self, s, n):
        e = np.empty
        self.s = s
        self.fed, self.w = e((2, 6, n)), e((3, 6, n))
        self.mask, self.q = e((3, n), bool), e((3, n))
        self.cop, self.free, self.t1 = e((3, 2, n)), e((3, n)), e((3, n))
        self.a, self.v, self.x, self.step = e((3, n)), e((3, n)), e((3, n)), e((3, n))
        self.m, self.arm, self.f2, self.d = e((3, n)), e((3, n)), e((3, n)), e((3, n))
        self.t, self.ok = e(n), e((3, n), bool)
        self.numerator = e((3, n))
        self.g = np.array([[0.0], [0.0], [s.gravity]])

    # Two places for the matrix: filtering and multiplying by it commute.
    def before(self, raw, low_pass):
        np.matmul(self.s.matrix, raw, out=self.fed)
        np.subtract(self.fed, self.s.constant, out=self.fed)
        self.w[:2] = low_pass(self.fed)
        return self.rest()

    def behind(self, raw, low_pass):
        np.copyto(self.fed, low_pass(raw))
        np.matmul(self.s.matrix, self.fed, out=self.w[:2])
        np.subtract(self.w[:2], self.s.constant, out=self.w[:2])
        return self.rest()

    def rest(self):
        w, h = self.w, 1 / self.s.rate
        np.add(w[0], w[1], out=w[2])
        # centre of pressure and free moment of the plates and the net
        np.greater_equal(w[:, 2], self.s.least, out=self.mask)
        self.q.fill(np.nan)
        np.divide(1.0, w[:, 2], out=self.q, where=self.mask)
        np.multiply(w[:, 3], self.q, out=self.cop[:, 1])
        np.negative(self.q, out=self.q)
        np.multiply(w[:, 4], self.q, out=self.cop[:, 0])
        np.multiply(self.cop[:, 0], w[:, 1], out=self.t1)
        np.subtract(w[:, 5], self.t1, out=self.free)
        np.multiply(self.cop[:, 1], w[:, 0], out=self.t1)
        np.add(self.free, self.t1, out=self.free)
        # centre of mass: acceleration in straight lines between the samples. The
        # steps of the position, h v0 + h²(2 a0 + a1)/6, are those of the trapezoid
        # rule and h²(a0 - a1)/12, whose sum is h²(a[0] - a)/12.
        np.multiply(w[2, :3], 1 / self.s.mass, out=self.a)
        np.subtract(self.a, self.g, out=self.a)
        self.trapezoid(self.a, self.v)
        self.trapezoid(self.v, self.x)
        np.add(self.x, self.s.start + h * h / 12 * self.a[:, :1], out=self.x)
        np.multiply(self.a, h * h / 12, out=self.step)
        np.subtract(self.x, self.step, out=self.x)
        # moment about it
        f, t = w[2, :3], self.t
        for i in range(3):
            j, k, out = (i + 1) % 3, (i + 2) % 3, self.m[i]
            np.multiply(self.x[j], f[k], out=t)
            np.subtract(w[2, 3 + i], t, out=out)
            np.multiply(self.x[k], f[j], out=t)
            np.add(out, t, out=out)
        # arms
        np.multiply(f, f, out=self.f2)
        for i in range(3):
            np.add(self.f2[(i + 1) % 3], self.f2[(i + 2) % 3], out=self.d[i])
        np.sqrt(self.d, out=self.d)
        np.greater_equal(self.d, self.s.least, out=self.ok)
        self.arm.fill(np.nan)
        np.divide(self.m[:2], self.d[:2], out=self.arm[:2], where=self.ok[:2])
        np.subtract(self.m[2], self.free[2], out=t)
        np.divide(t, self.d[2], out=self.arm[2], where=self.ok[2])
        return self.events()

    def trapezoid(self, y, out):
        s = self.step
        np.add(y[:, 1:], y[:, :-1], out=s[:, 1:])
        s[:, 0] = 0
        np.multiply(s, 0.5 / self.s.rate, out=s)
        np.cumsum(s, axis=-1, out=out)

    def events(self):
        """Index and value of the extremes of 14 series, and the crossings."""
        out = []
        for s in (self.w[2, :3], self.m, self.w[:2, 2]):
            for find in (np.argmin, np.argmax):
                at = find(s, axis=-1)
                out.append((at, np.take_along_axis(s, at[:, None], -1)[:, 0]))
        for s in (self.arm, self.cop[2], self.free[2:]):
            for reduce in (np.fmin.reduce, np.fmax.reduce):
                v = reduce(s, axis=-1)
                out.append(((s == v[:, None]).argmax(-1), v))
        out.append(np.nonzero(self.mask[:, 1:] != self.mask[:, :-1]))
        return out

    def rows(self):
        """All 36 rows: wrenches 18, centres of pressure 6, free moments 3, centre of
        mass 3, moment 3, arms 3."""
        return np.concatenate([self.w.reshape(18, -1), self.cop.reshape(6, -1), self.free, self.x, self.m, self.arm])

    def found(self, out):
        """The events as the program wants them: [minimum at, maximum at] of force,
        moment, vertical force of the plates, arm, centre of pressure and free moment,
        and the first samples on the other side of the threshold, by load."""
        at = [[int(i) for i in o[0]] for o in out[:-1]]
        which, where = out[-1]
        names = ["force", "moment", "vertical", "arm", "pressure", "free"]
        found = {n: list(zip(at[2 * k], at[2 * k + 1])) for k, n in enumerate(names)}
        found["crossings"] = [[int(i) + 1 for i in where[which == k]] for k in range(3)]
        return found


VARIANTS = {
    "matrix before sosfiltfilt": lambda c, raw: c.before(raw, c.s.sosfiltfilt),
    "matrix behind sosfiltfilt": lambda c, raw: c.behind(raw, c.s.sosfiltfilt),
    "matrix before filtfilt": lambda c, raw: c.before(raw, c.s.filtfilt),
}
CLOCK = time.perf_counter_ns
WARM = 0.1  # seconds of work before times count, as on the other side
FILTERS = {"sosfiltfilt": Setup.sosfiltfilt, "filtfilt": Setup.filtfilt}


def timed(do, repetitions):
    begin = time.perf_counter()
    while time.perf_counter() - begin < WARM:
        do()
    times = []
    for _ in range(repetitions):
        begin = CLOCK()
        do()
        times.append(CLOCK() - begin)
    return times


def share(job):
    """What one of several processes does: every k-th recording."""
    variant, k, of = job
    for raw in DATA[k::of]:
        VARIANTS[variant](CHAIN, raw)
    return 0


def main():
    global DATA, CHAIN, CLOCK
    folder = sys.argv[1]
    with open(folder + "/setup.json") as f:
        setup = Setup(json.load(f))
    print(json.dumps({"numpy": np.__version__, "scipy": scipy.__version__, "sos": setup.sos.tolist()}), flush=True)
    pool = None
    for line in sys.stdin:
        q = json.loads(line)
        if "clock" in q:
            CLOCK = time.process_time_ns
            answer = {}
        elif "load" in q:  # recordings of n samples
            n = q["samples"]
            DATA = np.fromfile(f"{folder}/{q['load']}.bin").reshape(-1, 2, 6, n)
            CHAIN = Chain(setup, n)
            answer = {}
        elif "check" in q:  # one recording, written to a file
            events = VARIANTS[q["variant"]](CHAIN, DATA[q["check"]])
            CHAIN.rows().tofile(folder + "/rows.bin")
            answer = CHAIN.found(events)
        elif "filter" in q:
            x, low_pass = DATA[0].reshape(12, -1), FILTERS[q["filter"]]
            answer = {"times": timed(lambda: low_pass(setup, x), q["repetitions"])}
        elif q.get("processes", 1) > 1:
            import multiprocessing

            if pool is None:
                pool = multiprocessing.get_context("fork").Pool(q["processes"])
            jobs = [(q["variant"], k, q["processes"]) for k in range(q["processes"])]
            answer = {"times": timed(lambda: pool.map(share, jobs, 1), q["repetitions"])}
        else:
            run = VARIANTS[q["variant"]]
            answer = {"times": timed(lambda: [run(CHAIN, raw) for raw in DATA], q["repetitions"])}
        print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    main()
