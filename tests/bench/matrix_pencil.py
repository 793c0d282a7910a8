"""Independent mode estimate for the bench: matrix pencil with NumPy/SciPy, whole band at once, one tap at a time.

Method: Hua & Sarkar, IEEE Trans. ASSP 38 (1990) 814: singular vectors of the Hankel matrix, shift invariance of the
right ones. Order: singular values above the noise's, read from a Hankel matrix of the pre-trigger of equal size.
Input (argv[1]): JSON {"file": raw float32, "taps": [{"offset", "length", "onset", "rate"}]}.
Output (stdout): JSON list of [[frequency Hz, Q], ...], one per tap. Knows nothing of the program under test.
"""
import json
import sys

import numpy as np
import scipy.linalg
import scipy.signal

START_S = 0.004
LENGTH_S = 0.4
FACTOR_HZ = 4000


def right_singular(matrix, most=60):
    """Largest singular values and right singular vectors, from the symmetric eigenproblem of the Gram matrix."""
    n = matrix.shape[1]
    w, v = scipy.linalg.eigh(matrix.T @ matrix, subset_by_index=[n - most, n - 1])
    return np.sqrt(np.maximum(w[::-1], 0)), v[:, ::-1]


def poles(tap, rate, onset):
    factor = int(rate // FACTOR_HZ)
    x = scipy.signal.resample_poly(tap.astype(float), 1, factor)
    rate = rate / factor
    onset = int(round(onset / factor))
    first = onset + int(START_S * rate)
    y = x[first:first + int(LENGTH_S * rate)]
    rows = len(y) // 3
    noise = x[max(0, onset - len(y) - 20):onset - 20]
    hankel = lambda v: scipy.linalg.hankel(v[:len(v) - rows], v[len(v) - rows - 1:])
    s, v = right_singular(hankel(y))
    floor = right_singular(hankel(noise))[0][0] if len(noise) > 2 * rows else s[len(s) // 2]
    order = max(2, int(np.sum(s > 1.2 * floor)))
    v = v[:, :order]
    shift, *_ = np.linalg.lstsq(v[:-1], v[1:], rcond=None)
    z = np.linalg.eigvals(shift)
    z = z[(np.imag(z) > 0) & (np.abs(z) < 1)]
    f = np.angle(z) * rate / (2 * np.pi)
    q = np.pi * f / (-np.log(np.abs(z)) * rate)
    keep = (f > 30) & (f < 1200) & (q > 4) & (q < 500)
    return sorted([float(a), float(b)] for a, b in zip(f[keep], q[keep]))


def main():
    job = json.load(open(sys.argv[1]))
    samples = np.fromfile(job["file"], dtype="<f4")
    out = [poles(samples[t["offset"]:t["offset"] + t["length"]], t["rate"], t["onset"]) for t in job["taps"]]
    json.dump(out, sys.stdout)


main()
