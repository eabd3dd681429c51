"""Writes the expected values of the cases on public C3D files.

    GRF_DATASETS=FOLDER /usr/bin/python3 c3d_values.py OUTPUT [FILE...]

reads the files c3d/FOLDER/FILE below GRF_DATASETS, all that are there or those
that are named as FOLDER/FILE, and writes OUTPUT/FOLDER__FILE.points.csv,
.analog.csv and .plates.csv. The reader is written with NumPy from the C3D File
Format User Guide (https://www.c3d.org/HTML/Documents/) and shares nothing with
this library.

Plates are evaluated as they stand in the file, without zeroing: force in plate
and laboratory axes, moment about the centre of the surface, centre of pressure
where the load is 20 N or more, and the free moment about the plate's z, at
twelve samples, or those that c3d/oracle below GRF_DATASETS already names.
"""

import csv
import glob
import os
import sys

import numpy as np

INTEL, DEC, MIPS = 84, 85, 86


class File:
    def __init__(self, path):
        with open(path, "rb") as f:
            self.data = f.read()
        start = (self.data[0] - 1) * 512
        self.processor = self.data[start + 3]
        self.order = ">" if self.processor == MIPS else "<"
        self.parameters = {}
        self.chain(start + 4)
        self.frames_and_rates()

    def signed(self, at):
        return self.data[at] - 256 if self.data[at] > 127 else self.data[at]

    def numbers(self, at, count, kind):
        """kind: i signed and u unsigned 16 bit, f 32-bit real."""
        if kind in "iu":
            return np.frombuffer(self.data, self.order + kind + "2", count, at).astype(float)
        if self.processor != DEC:
            return np.frombuffer(self.data, self.order + "f4", count, at).astype(float)
        # VAX F: the 16-bit halves change places, and the exponent is 2 larger.
        halves = np.frombuffer(self.data, "<u2", 2 * count, at).astype("<u4")
        bits = halves[0::2] << 16 | halves[1::2]
        value = bits.astype("<u4").view("<f4").astype(float) / 4
        return np.where(bits & 0x7F800000, value, 0)

    def chain(self, at):
        """Walks through groups and parameters until the chain ends or breaks."""
        groups, found = {}, []
        while at + 2 < len(self.data):
            length = abs(self.signed(at))
            number = self.signed(at + 1)
            if length == 0 or number == 0:
                break
            name = self.data[at + 2: at + 2 + length].decode("latin-1").strip().upper()
            step = at + 2 + length
            offset = int(self.numbers(step, 1, "i")[0])
            if number < 0:
                groups[-number] = name
            else:
                found.append((number, name, step + 2))
            if offset <= 0:
                break
            at = step + offset
        for number, name, body in found:
            if number in groups:
                self.parameters.setdefault((groups[number], name), self.value(body))

    def value(self, at):
        kind = self.signed(at)
        rank = self.data[at + 1]
        shape = list(self.data[at + 2: at + 2 + rank])
        at += 2 + rank
        count = int(np.prod(shape)) if shape else 1
        if count == 0:
            return []
        if kind == -1:
            width = shape[0] if shape else 1
            text = self.data[at: at + count].decode("latin-1")
            return [text[i: i + width].strip(" \0") for i in range(0, count, width)]
        if at + count * abs(kind) > len(self.data):
            return []
        if kind == 1:
            return np.frombuffer(self.data, "i1", count, at).astype(float)
        return self.numbers(at, count, "i" if kind == 2 else "f")

    def get(self, group, name, default=None):
        v = self.parameters.get((group, name))
        return default if v is None or len(v) == 0 else v

    def frames_and_rates(self):
        header = self.numbers(0, 10, "u")
        self.points = int(self.get("POINT", "USED", [header[1]])[0])
        self.channels = int(self.get("ANALOG", "USED", [0])[0])
        self.per_frame = int(header[9]) if self.channels else 0
        scale = self.get("POINT", "SCALE", self.numbers(12, 1, "f"))[0]
        self.real, self.scale = scale < 0, abs(scale)
        start = (int(self.get("POINT", "DATA_START", [header[8]])[0]) - 1) * 512
        width = 4 if self.real else 2
        row = 4 * self.points + self.channels * self.per_frame
        frames = min(int(header[4] - header[3]) + 1, (len(self.data) - start) // (row * width))
        self.unsigned = self.get("ANALOG", "FORMAT", [""])[0].upper() == "UNSIGNED"
        block = self.numbers(start, frames * row, "f" if self.real else "i").reshape(frames, row)
        points = block[:, : 4 * self.points].reshape(frames, self.points, 4)
        self.position = points[:, :, :3] * (1 if self.real else self.scale)
        self.position[points[:, :, 3] < 0] = np.nan
        self.raw = block[:, 4 * self.points:].reshape(frames * self.per_frame, self.channels)
        offset = np.resize(self.get("ANALOG", "OFFSET", [0.0]), self.channels)
        if self.unsigned:
            offset = np.where(offset < 0, offset + 65536, offset)
            if not self.real:
                self.raw = np.where(self.raw < 0, self.raw + 65536, self.raw)
        self.offset = offset
        self.gain = np.resize(self.get("ANALOG", "SCALE", [1.0]), self.channels)
        general = self.get("ANALOG", "GEN_SCALE", [1.0])[0]
        self.analog = (self.raw - offset) * self.gain * general

    def plates(self):
        used = int(self.get("FORCE_PLATFORM", "USED", [0])[0])
        corners = np.asarray(self.get("FORCE_PLATFORM", "CORNERS", np.zeros(0)))
        origins = np.asarray(self.get("FORCE_PLATFORM", "ORIGIN", np.zeros(0)))
        channels = self.parameters.get(("FORCE_PLATFORM", "CHANNEL"), [])
        each = len(channels) // used if used else 0
        matrices = self.parameters.get(("FORCE_PLATFORM", "CAL_MATRIX"), [])
        for i in range(used):
            kind = int(self.get("FORCE_PLATFORM", "TYPE")[i])
            rows = [int(c) - 1 for c in channels[i * each: (i + 1) * each]][: 8 if kind == 3 else 6]
            if any(c < 0 or c >= self.channels for c in rows):
                continue
            signals = self.analog[:, rows]
            if kind == 4:
                matrix = np.asarray(matrices[36 * i: 36 * i + 36]).reshape(6, 6).T  # first index fastest
                signals = signals @ matrix.T
            yield i + 1, kind, corners[12 * i: 12 * i + 12].reshape(4, 3), origins[3 * i: 3 * i + 3], signals


def surface(kind, origin, s):
    """Force and moment about the centre of the surface, in plate axes."""
    o = np.array(origin)
    force = s[:, :3].copy()
    if kind == 1:
        p = np.column_stack([s[:, 3], s[:, 4], 0 * s[:, 3]])
        return force, np.cross(p, force) + np.column_stack([0 * s[:, 5], 0 * s[:, 5], s[:, 5]])
    if kind == 3:
        if o[2] > 0:
            o[2] = -o[2]
        a, b, depth = o
        x12, x34, y14, y23, z1, z2, z3, z4 = s.T
        force = np.column_stack([x12 + x34, y14 + y23, z1 + z2 + z3 + z4])
        return force, np.column_stack([
            b * (z1 + z2 - z3 - z4) + force[:, 1] * depth,
            a * (-z1 + z2 + z3 - z4) - force[:, 0] * depth,
            b * (-x12 + x34) + a * (y14 - y23)])
    if o[2] > 0:
        o = -o
    return force, s[:, 3:6] - np.cross(o, force)


def axes(c):
    x = c[0] - c[1]
    x /= np.linalg.norm(x)
    y = c[0] - c[3]
    y -= x * (x @ y)
    y /= np.linalg.norm(y)
    return np.column_stack([x, y, np.cross(x, y)])


def write(path, names, rows):
    with open(path, "w", newline="") as f:
        out = csv.writer(f)
        out.writerow(names)
        out.writerows([["" if isinstance(x, float) and np.isnan(x) else x for x in r] for r in rows])


def labels(f, group, n):
    names = list(f.get(group, "LABELS", []))
    return names + [""] * (n - len(names))


def main(root, output, wanted):
    os.makedirs(output, exist_ok=True)
    paths = sorted(glob.glob(os.path.join(root, "c3d", "*", "*.[cC]3[dD]")))
    for path in paths:
        folder, base = path.split(os.sep)[-2:]
        if wanted and folder + "/" + base not in wanted or os.path.getsize(path) == 0:
            continue
        f = File(path)
        name = os.path.join(output, folder + "__" + base)
        if f.points:
            rows = []
            for i, label in zip(range(f.points), labels(f, "POINT", f.points)):
                p = f.position[:, i]
                valid = np.flatnonzero(~np.isnan(p[:, 0]))
                row = [i + 1, label, len(valid)]
                if len(valid):
                    row += [valid[0], *map(float, p[valid[0]]), valid[-1], *map(float, p[valid[-1]]), *map(float, p[valid].mean(axis=0))]
                rows.append(row + [""] * (14 - len(row)))
            write(name + ".points.csv", ["index", "label", "n_valid", "first_valid_frame0", "x", "y", "z", "last_valid_frame0",
                                         "x_last", "y_last", "z_last", "mean_x", "mean_y", "mean_z"], rows)
        if f.channels:
            a, raw = f.analog, f.raw
            write(name + ".analog.csv", ["channel", "label", "scale", "offset", "raw_first", "raw_last", "first", "second", "last", "mean", "min", "max"],
                  [[i + 1, label, *map(float, (f.gain[i], f.offset[i], raw[0, i], raw[-1, i], a[0, i], a[min(1, len(a) - 1), i], a[-1, i],
                                               a[:, i].mean(), a[:, i].min(), a[:, i].max()))]
                   for i, label in zip(range(f.channels), labels(f, "ANALOG", f.channels))])
        rows = []
        chosen = {}
        stored = os.path.join(root, "c3d", "oracle", folder + "__" + base + ".plates.csv")
        if os.path.exists(stored):
            for r in csv.DictReader(open(stored)):
                if r["baseline"] == "none":
                    chosen.setdefault(int(r["plate"]), []).append(int(r["analog_sample0"]))
        for number, kind, corners, origin, signals in f.plates():
            at = chosen.get(number) or np.linspace(0, len(signals) - 1, 12).astype(int)
            force, moment = surface(kind, origin, signals[at])
            turn, centre = axes(corners), corners.mean(axis=0)
            lab = force @ turn.T
            for k, s in enumerate(at):
                point, free = [np.nan] * 3, np.nan
                if abs(force[k, 2]) >= 20:
                    x, y = -moment[k, 1] / force[k, 2], moment[k, 0] / force[k, 2]
                    free = moment[k, 2] - (x * force[k, 1] - y * force[k, 0])
                    point = centre + turn @ [x, y, 0]
                rows.append([number, kind, "none", int(s), *map(float, (*force[k], *moment[k], *lab[k], *point, free))])
        if rows:
            write(name + ".plates.csv", ["plate", "type", "baseline", "analog_sample0", "Fx_plate", "Fy_plate", "Fz_plate",
                                         "Mx_surface", "My_surface", "Mz_surface", "Fx_lab", "Fy_lab", "Fz_lab",
                                         "COPx_lab", "COPy_lab", "COPz_lab", "Tz_plate_axis"], rows)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    main(os.environ["GRF_DATASETS"], sys.argv[1], sys.argv[2:])
