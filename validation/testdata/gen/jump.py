"""Prints the expected values of the case datasets/jump/impulse.

    GRF_DATASETS=... /usr/bin/python3 jump.py

The record is taken as straight lines between samples and integrated twice. As
in the library, the mean velocity over the quiet stance is zero; displacements
count from the first sample.
"""

import os

import numpy as np
from scipy import interpolate

force = np.loadtxt(os.path.join(os.environ["GRF_DATASETS"], "jump", "GRFZjump.txt"))
rate, g = 600.0, 9.81
take_off, landing = 544, 797  # indices of the flight at 10 N
offset = force[take_off + 24:landing - 24].mean()
n = 100  # samples of the quiet stance
f = force - round(offset, 4)
mass = f[:n].mean() / g
t = np.arange(f.size) / rate
a = interpolate.make_interp_spline(t, f / mass - g, k=1)
v, p = a.antiderivative(1), a.antiderivative(2)
v0 = v(t[:n]).mean()
instant = 0.905
velocity = v(instant) - v0
rise = p(instant) - v0 * instant - p(0)
print("offset", round(offset, 4), "mass", repr(mass))
print("velocity", repr(float(velocity)), "rise", repr(float(rise)), "highest", repr(float(rise + velocity**2 / (2 * g))))
