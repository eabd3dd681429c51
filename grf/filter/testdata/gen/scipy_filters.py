#!/usr/bin/env python3
"""Writes ../scipy_filters.json: a short signal and what SciPy makes of it.

Run with Debian's python3-scipy:  python3 scipy_filters.py
The Go tests compare with the stored numbers; they do not need Python.
"""
import json
import os

import numpy as np
import scipy
from scipy import interpolate, signal

HERE = os.path.dirname(os.path.abspath(__file__))


def listed(a):
    return [float(x) for x in np.ravel(a)]


def corrected(order, cutoff, rate):
    """Cut-off of one pass, so that two have -3 dB at cutoff: correction of the warped frequency."""
    c = (2 ** 0.5 - 1) ** (1 / (2 * order))
    return rate / np.pi * np.arctan(np.tan(np.pi * cutoff / rate) / c)


def long_pad(sos):
    """Three times the decay of the slowest pole to a hundredth, and the default of sosfiltfilt at least."""
    radius = max(abs(np.concatenate([np.roots(s[3:]) for s in sos])))
    return max(3 * (2 * len(sos) + 1), int(np.ceil(3 * np.log(100) / -np.log(radius))))


rng = np.random.RandomState(20240917)
t = np.arange(160) / 1000
x = (800 + 250 * np.sin(2 * np.pi * 3 * t) + 60 * np.sin(2 * np.pi * 17 * t + 1)
     + 20 * np.sin(2 * np.pi * 140 * t + 2) + 5 * rng.standard_normal(len(t)))
x = np.round(x, 3)

lowpass = []
for order, cutoff, rate in [(2, 50, 1000), (4, 50, 1000), (6, 30, 1000), (8, 120, 500), (2, 10, 1000), (4, 95, 200)]:
    sos = signal.butter(order, cutoff, fs=rate, output='sos')
    zi = signal.sosfilt_zi(sos)
    freq = np.array([0, 0.1, 0.5, 1, 1.5]) * cutoff
    freq = freq[freq < rate / 2]
    _, h = signal.sosfreqz(sos, worN=freq, fs=rate)
    b, a = signal.butter(order, cutoff, fs=rate)
    _, delay = signal.group_delay((b, a), w=freq, fs=rate)
    two = signal.butter(order, corrected(order, cutoff, rate), fs=rate, output='sos')
    lowpass.append({
        'order': order, 'cutoff': cutoff, 'rate': rate,
        'sos': [listed(s) for s in sos],
        'freq': listed(freq), 're': listed(h.real), 'im': listed(h.imag), 'delay': listed(delay / rate),
        'sosfilt_rest': listed(signal.sosfilt(sos, x)),
        'sosfilt_steady': listed(signal.sosfilt(sos, x, zi=zi * x[0])[0]),
        'sosfiltfilt': listed(signal.sosfiltfilt(sos, x)),
        'sosfiltfilt_nopad': listed(signal.sosfiltfilt(sos, x, padlen=0)),
        'sosfiltfilt_pad100': listed(signal.sosfiltfilt(sos, x, padlen=100)),
        'corrected': listed(signal.sosfiltfilt(two, x)),
    })

# A high-pass and a band-pass, to see that the kernel takes any section.
other = []
for kind, edges in [('highpass', 20), ('bandpass', [20, 80])]:
    sos = signal.butter(4, edges, btype=kind, fs=1000, output='sos')
    other.append({'kind': kind, 'sos': [listed(s) for s in sos], 'sosfiltfilt': listed(signal.sosfiltfilt(sos, x))})
# A first-order section: the default pad of sosfiltfilt is shorter.
sos = signal.butter(3, 60, fs=1000, output='sos')
other.append({'kind': 'order 3', 'sos': [listed(s) for s in sos], 'sosfiltfilt': listed(signal.sosfiltfilt(sos, x))})

residual = {'rate': 1000, 'cutoffs': [20.0, 40.0, 80.0, 160.0, 250.0], 'rms': [], 'pad': []}
for fc in residual['cutoffs']:
    sos = signal.butter(2, corrected(2, fc, 1000), fs=1000, output='sos')
    residual['pad'].append(long_pad(sos))
    y = signal.sosfiltfilt(sos, x, padlen=residual['pad'][-1])
    residual['rms'].append(float(np.sqrt(np.mean((x - y) ** 2))))

# Uneven stamps for the interpolators, and the same with few samples.
knots = np.round(np.cumsum(0.005 + 0.002 * rng.random_sample(40)), 6)
values = x[::4]
at = knots[0] + np.arange(int((knots[-1] - knots[0]) * 1000) + 1) / 1000
interp = {
    'times': listed(knots), 'values': listed(values), 'start': float(at[0]), 'rate': 1000, 'n': len(at),
    'linear': listed(np.interp(at, knots, values)),
    'cubic': listed(interpolate.CubicSpline(knots, values)(at)),
    'cubic4': listed(interpolate.CubicSpline(knots[:4], values[:4])(at[at <= knots[3]])),
    'cubic3': listed(interpolate.CubicSpline(knots[:3], values[:3])(at[at <= knots[2]])),
    'cubic2': listed(interpolate.CubicSpline(knots[:2], values[:2])(at[at <= knots[1]])),
}

doc = {
    'about': 'made by testdata/gen/scipy_filters.py',
    'scipy': scipy.__version__, 'numpy': np.__version__,
    'input': listed(x), 'lowpass': lowpass, 'other': other, 'residual': residual, 'interp': interp,
}
with open(os.path.join(HERE, '..', 'scipy_filters.json'), 'w') as f:
    f.write('{\n')
    f.write(',\n'.join('%s: %s' % (json.dumps(k), json.dumps(v)) for k, v in doc.items()))
    f.write('\n}\n')
