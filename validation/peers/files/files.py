"""Reading of files and computing of plates beside NumPy and SciPy, and how cost
and memory grow with the length of a recording. See README.md.

    python3 validation/peers/files/files.py [--rounds 7] [--datasets FOLDER]

from the top of the checkout, with an interpreter that has numpy and scipy. The
contestants take turns; what is printed are medians over the rounds, in ratios.
"""

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time

import numpy as np
import scipy
from scipy import signal

RATE = 1000
NAMES = ["Fx [N]", "Fy [N]", "Fz [N]", "Mx [N·m]", "My [N·m]", "Mz [N·m]"]


class Ours:
    """The Go program beside this script: one question a line, one answer a line."""

    def __init__(self, folder):
        here = os.path.dirname(os.path.abspath(__file__))
        program = os.path.join(folder, "files")
        subprocess.run(["go", "build", "-o", program, "."], cwd=here, check=True)
        self.process = subprocess.Popen([program], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def ask(self, *words):
        self.process.stdin.write("\t".join(map(str, words)) + "\n")
        self.process.stdin.flush()
        line = self.process.stdout.readline()
        if not line:
            sys.exit("the Go program has ended")
        return json.loads(line)


def timed(f):
    start = time.perf_counter_ns()
    result = f()
    return time.perf_counter_ns() - start, result


def ratio(theirs, ours):
    return statistics.median(theirs) / statistics.median(ours)


def swing(seconds, seed):
    """Two plates' wrenches, made up: load that goes to and fro, some noise."""
    rng = np.random.default_rng(seed)
    t = np.arange(int(seconds * RATE)) / RATE
    share = 0.5 + 0.4 * np.sin(2 * np.pi * 0.35 * t)
    w = np.empty((2, 6, len(t)))
    for k, s in enumerate((share, 1 - share)):
        w[k, 0] = 60 * s * np.sin(2 * np.pi * 0.9 * t)
        w[k, 1] = 90 * s * np.sin(2 * np.pi * 1.1 * t + k)
        w[k, 2] = 785 * s + 80 * np.sin(2 * np.pi * 1.5 * t)
        w[k, 3] = 0.05 * w[k, 2] * np.sin(2 * np.pi * 0.5 * t)
        w[k, 4] = (0.3 - 0.6 * k) * w[k, 2]
        w[k, 5] = 8 * s * np.sin(2 * np.pi * t)
    return w + rng.normal(0, 0.5, w.shape)


class Chain:
    """The chain of package phase/batch in NumPy: one 6×6 and one constant for each
    plate, SciPy's sosfiltfilt, net, centre of pressure, free moment, twofold
    integration, moment and arms, extremes and crossings. Outputs preallocated.
    The folder above compares it digit by digit; here it is the yardstick."""

    def __init__(self, n):
        e = np.empty
        rng = np.random.default_rng(1)
        self.matrix = np.stack([np.eye(6) + 0.01 * rng.normal(size=(6, 6)) for _ in range(2)])
        self.constant = self.matrix @ rng.normal(size=(2, 6, 1))
        self.sos = signal.butter(4, 50, fs=RATE, output="sos")
        self.fed, self.w = e((2, 6, n)), e((3, 6, n))
        self.mask, self.q = e((3, n), bool), e((3, n))
        self.cop, self.free, self.t = e((3, 2, n)), e((3, n)), e((3, n))
        self.a, self.v, self.x, self.step = e((3, n)), e((3, n)), e((3, n)), e((3, n))
        self.m, self.arm, self.d = e((3, n)), e((3, n)), e((3, n))

    def run(self, raw):
        w = self.w
        np.matmul(self.matrix, raw, out=self.fed)
        np.subtract(self.fed, self.constant, out=self.fed)
        w[:2] = signal.sosfiltfilt(self.sos, self.fed, axis=-1)
        np.add(w[0], w[1], out=w[2])
        np.greater_equal(w[:, 2], 20, out=self.mask)
        self.q.fill(np.nan)
        np.divide(1, w[:, 2], out=self.q, where=self.mask)
        np.multiply(w[:, 4], self.q, out=self.cop[:, 0])
        np.negative(self.cop[:, 0], out=self.cop[:, 0])
        np.multiply(w[:, 3], self.q, out=self.cop[:, 1])
        np.multiply(self.cop[:, 0], w[:, 1], out=self.t)
        np.subtract(w[:, 5], self.t, out=self.free)
        np.multiply(self.cop[:, 1], w[:, 0], out=self.t)
        np.add(self.free, self.t, out=self.free)
        np.multiply(w[2, :3], 1 / 80, out=self.a)
        self.a[2] -= 9.80665
        for src, dst in ((self.a, self.v), (self.v, self.x)):
            np.add(src[:, 1:], src[:, :-1], out=self.step[:, 1:])
            self.step[:, 0] = 0
            np.multiply(self.step, 0.5 / RATE, out=self.step)
            np.cumsum(self.step, axis=-1, out=dst)
        f = w[2, :3]
        for i in range(3):
            j, k = (i + 1) % 3, (i + 2) % 3
            np.multiply(self.x[j], f[k], out=self.t[0])
            np.subtract(w[2, 3 + i], self.t[0], out=self.m[i])
            np.multiply(self.x[k], f[j], out=self.t[0])
            np.add(self.m[i], self.t[0], out=self.m[i])
            np.multiply(f[j], f[j], out=self.d[i])
            np.multiply(f[k], f[k], out=self.t[0])
            np.add(self.d[i], self.t[0], out=self.d[i])
        np.sqrt(self.d, out=self.d)
        self.arm.fill(np.nan)
        np.divide(self.m, self.d, out=self.arm, where=self.mask[2])
        found = []
        for s in (f, self.m, w[:2, 2]):
            found += [s.argmax(-1), s.argmin(-1)]
        for s in (self.cop[2], self.arm, self.free[2:]):
            for f in (np.fmax, np.fmin):
                found.append((s == f.reduce(s, axis=-1)[..., None]).argmax(-1))
        found.append(np.nonzero(self.mask[:2, 1:] != self.mask[:2, :-1]))
        return found


def csv(ours, rounds, folder):
    """A table of 60 s and 13 columns, from memory that is cached by the system."""
    name = os.path.join(folder, "plates.csv")
    w = swing(60, 2).reshape(12, -1)
    t = np.arange(w.shape[1]) / RATE
    with open(name, "w", encoding="utf-8") as f:
        f.write("time [s]," + ",".join(f"p{k} {n}" for k in (1, 2) for n in NAMES) + "\n")
        np.savetxt(f, np.c_[t, w.T], delimiter=",", fmt=["%.3f"] + ["%.6f"] * 12)
    mine, theirs, bits, want = [], [], None, None
    for i in range(rounds + 1):
        ns, a = timed(lambda: np.loadtxt(name, delimiter=",", skiprows=1, encoding="utf-8"))
        answer = ours.ask("csv", name)
        if i == 0:  # nothing is warm
            want = f"{np.bitwise_xor.reduce(a.view(np.uint64), axis=None):016x}"
            bits = answer["bits"]
            continue
        theirs.append(ns)
        mine.append(answer["ns"])
    print(f"CSV, 60,000 × 13: {ratio(theirs, mine):.1f} × numpy.loadtxt; "
          f"{'every digit' if bits == want else 'NOT every digit'} the same")


def plates(ours, rounds, files):
    """Against SciPy's whole chain at 5 s: ns per sample of it (both plates) over ns
    per sample of one plate."""
    chain, raw = Chain(5 * RATE), swing(5, 1)
    for name in files:
        mine, theirs = [], []
        for i in range(rounds + 1):
            t = [timed(lambda: chain.run(raw))[0] / raw.shape[-1] for _ in range(10)]
            answer = ours.ask("plates", name)
            if i > 0:
                theirs.append(min(t))
                mine.append(answer["ns"] / answer["samples"])
        print(f"plates of {os.path.basename(name)}, loaded: one plate-sample costs 1/{ratio(theirs, mine):.0f} "
              "of a sample in SciPy's chain")


def c3d(ours, rounds, files):
    """Every file of more than 70 KB; the yardstick is NumPy's turning as many bytes
    into numbers as the file has, the least that a reader has to do."""
    worst = {"reused": (np.inf, ""), "fresh": (np.inf, "")}
    for name in files:
        size = os.path.getsize(name)
        raw = np.zeros(size // 2, np.int16)
        numbers = np.empty(len(raw))

        def convert():
            np.multiply(raw, 0.5, out=numbers)

        t, mine = [], {k: [] for k in worst}
        for i in range(rounds + 1):
            floor = min(timed(convert)[0] for _ in range(5))
            for kind in mine:
                ns = ours.ask("c3d", name, kind)["ns"]
                if i > 0:
                    mine[kind].append(ns)
            if i > 0:
                t.append(floor)
        speeds = {k: size / statistics.median(v) * 1e3 for k, v in mine.items()}
        print(f"  {os.path.basename(name):38s} reused {speeds['reused']:5.0f}, fresh {speeds['fresh']:5.0f} MB/s; "
              f"{1 / ratio(t, mine['reused']):5.1f} and {1 / ratio(t, mine['fresh']):5.1f} × converting as many bytes")
        for k in worst:
            worst[k] = min(worst[k], (speeds[k], os.path.basename(name)))
    for k, (speed, name) in worst.items():
        print(f"C3D, {k} memory, on this machine: {speed:.0f} MB/s or more ({name} is the slowest)")


def growth(ours):
    """Cost and memory by the length of a recording."""
    print("length   chain: cost per sample, memory kept   swing analysis: cost per sample, memory at most, kept")
    base = {}
    for seconds in (1, 5, 10, 60, 300, 600):
        a = ours.ask("chain", seconds)
        cost = a["ns"] / a["samples"]
        line = f"{seconds:4d} s   {cost / base.setdefault('chain', cost):6.2f}, {a['kept'] / a['measured']:4.1f} × the measured numbers"
        if seconds >= 5:
            b = ours.ask("swing", 1 + seconds // 6, seconds)
            cost = b["ns"] / b["samples"]
            line += (f"   {cost / base.setdefault('swing', cost):6.2f}, {b['peak'] / b['measured']:4.1f} ×, "
                     f"{b['kept'] / b['measured']:4.1f} ×")
        print(line, flush=True)


def main():
    p = argparse.ArgumentParser()
    p.add_argument("--rounds", type=int, default=7)
    p.add_argument("--datasets", default=os.environ.get("GRF_DATASETS", ""), help="folder of the public data sets")
    p.add_argument("--only", default="csv,plates,c3d,growth")
    o = p.parse_args()
    only = o.only.split(",")
    print(f"NumPy {np.__version__}, SciPy {scipy.__version__}, {o.rounds} rounds")
    files = []
    for folder, _, names in sorted(os.walk(os.path.join(o.datasets, "c3d"))):
        files += [os.path.join(folder, n) for n in sorted(names)
                  if n.lower().endswith(".c3d") and os.path.getsize(os.path.join(folder, n)) > 70e3]
    if not files:
        print("C3D files are left out: set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
    with tempfile.TemporaryDirectory() as folder:
        ours = Ours(folder)
        if "csv" in only:
            csv(ours, o.rounds, folder)
        if "plates" in only and files:
            wanted = [f for f in files if os.path.basename(f) in ("Gait.c3d", "TYPE-2.C3D", "MotionMonitorC3D.c3d")]
            plates(ours, o.rounds, wanted)
        if "c3d" in only and files:
            c3d(ours, o.rounds, files)
        if "growth" in only:
            growth(ours)


if __name__ == "__main__":
    # One thread, and memory that was used once is kept: the first touch of a page
    # costs more than the arithmetic on it.
    quiet = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MALLOC_MMAP_THRESHOLD_": "1073741824",
             "MALLOC_TRIM_THRESHOLD_": "4294967296", "MALLOC_TOP_PAD_": "268435456"}
    if any(os.environ.get(k) != v for k, v in quiet.items()):
        env = {k: v for k, v in os.environ.items() if not k.startswith("OPENBLAS_")} | quiet
        os.execve(sys.executable, [sys.executable] + sys.argv, env)
    main()
