"""Stabilisation diagram for the bench: ESPRIT of all taps of a round at once, over many model orders.

Each tap is decimated and brought to unit energy. The Hankel matrices of the taps stand side by side; the left singular
vectors of the whole give the poles at every order by shift invariance. Poles that come back at a like frequency and decay
over the orders are clusters; a cluster that is stable in enough of the orders is a mode. Its value is the median over the
orders, its spread over the orders the only measure of uncertainty the diagram has.
Sources: Roy & Kailath, IEEE Trans. ASSP 37 (1989) 984 (ESPRIT); van der Auweraer & Peeters, Mech. Syst. Signal Process. 18
(2004) 3 (stabilisation diagrams); Magalhaes, Cunha & Caetano, Mech. Syst. Signal Process. 23 (2009) 316 (clustering of
poles), all from memory. Constants: chosen on tests/bench/beside.ts with seeds from 715000000 on, where all of the six modes
of a clean round are found and nothing else.
Input (argv[1]): JSON {"file": raw float32, "taps": [{"offset", "length", "onset", "rate"}], "counts": taps of each round,
"downToDb": fainter modes are not asked for}.
Output (stdout): JSON list, one per round: {"ms": processor time, "modes": [[frequency Hz, its spread, Q, its spread, part of
the orders it is stable in], ...]}. Knows nothing of the program under test.
"""
import json
import sys
import time

import numpy as np
import scipy.linalg
import scipy.signal

RATE_HZ = 3000
START_S = 0.006
LENGTH_S = 0.5
HANKEL_ROWS_S = 0.06
# pairs of poles
ORDERS = range(8, 41, 2)
LOWEST_HZ, HIGHEST_HZ = 30, 700
LOWEST_Q, HIGHEST_Q = 9, 500
# two poles are one from order to order within these: bandwidths, and ln of the decay
NEAR_BANDWIDTHS = 0.3
NEAR_LN_DECAY = 0.4
# clusters stable in fewer of the orders are not told at all
LEAST_STABLE = 0.5


def decimated(tap, rate, onset):
    factor = max(1, round(rate / RATE_HZ))
    half = 10 * factor
    low_pass = scipy.signal.firwin(2 * half + 1, 0.45 * rate / factor, fs=rate, window=("kaiser", 8.0))
    x = scipy.signal.upfirdn(low_pass, tap.astype(float), 1, factor)[10:]
    rate = rate / factor
    first = int(np.ceil(onset / factor + START_S * rate))
    y = x[first:first + int(LENGTH_S * rate)]
    return y / np.sqrt(np.mean(y ** 2)), rate


def signal_space(taps, rate):
    n = min(map(len, taps))
    rows = int(HANKEL_ROWS_S * rate)
    hankel = np.hstack([scipy.linalg.hankel(y[:rows], y[rows - 1:n]) for y in taps])
    triangle = scipy.linalg.qr(hankel.T, mode="r")[0][:rows]
    return scipy.linalg.svd(triangle.T)[0]


def poles_of_order(space, order, rate):
    v = space[:, :2 * order]
    up, down = v[:-1], v[1:]
    z = np.linalg.eigvals(np.linalg.solve(up.T @ up, up.T @ down))
    z = z[(z.imag > 0) & (np.abs(z) < 1)]
    f = np.angle(z) * rate / (2 * np.pi)
    decay = -np.log(np.abs(z)) * rate
    q = np.pi * f / decay
    keep = (f > LOWEST_HZ) & (f < HIGHEST_HZ) & (q > LOWEST_Q) & (q < HIGHEST_Q)
    return f[keep], np.log(decay[keep])


def clusters(columns):
    """Densest first: frequency, its spread, ln decay, its spread, part of the orders."""
    f, ln_decay, order = (np.concatenate(c) for c in zip(*((f, d, np.full(len(f), i)) for i, (f, d) in enumerate(columns))))
    width = np.exp(ln_decay) / np.pi

    def near(at_f, at_ln_decay, at_width):
        return np.hypot((f - at_f) / at_width / NEAR_BANDWIDTHS, (ln_decay - at_ln_decay) / NEAR_LN_DECAY) < 1

    about = [near(f[i], ln_decay[i], (width[i] + width) / 2) for i in range(len(f))]
    left = np.ones(len(f), bool)
    out = []
    while left.any():
        stable = np.array([len(set(order[a & left])) if left[i] else 0 for i, a in enumerate(about)])
        best = int(np.argmax(stable))
        if stable[best] < LEAST_STABLE * len(columns):
            break
        members = about[best] & left
        centre = np.median(f[members]), np.median(ln_decay[members])
        again = near(*centre, np.exp(centre[1]) / np.pi) & left
        if len(set(order[again])) >= LEAST_STABLE * len(columns):
            members = again
        out.append((np.median(f[members]), np.std(f[members]), np.median(ln_decay[members]), np.std(ln_decay[members]),
                    len(set(order[members])) / len(columns)))
        left &= ~members
    return out


def levels_db(found, taps, rate):
    """Root mean square over the taps at the onset, the strongest at 0."""
    n = min(map(len, taps))
    decays = np.exp([c[2] for c in found])
    ring = np.exp(np.outer(np.arange(n) / rate, -decays + 2j * np.pi * np.array([c[0] for c in found])))
    part = np.linalg.lstsq(np.hstack([ring.real, ring.imag]), np.stack([y[:n] for y in taps], 1), rcond=None)[0]
    level = np.sqrt(np.mean(part[:len(found)] ** 2 + part[len(found):] ** 2, axis=1)) * np.exp(decays * START_S)
    return 20 * np.log10(level / np.max(level))


def read(taps, down_to_db):
    series, rates = zip(*(decimated(*tap) for tap in taps))
    space = signal_space(series, rates[0])
    found = clusters([poles_of_order(space, order, rates[0]) for order in ORDERS])
    if not found:
        return []
    told = [c for c, level in zip(found, levels_db(found, series, rates[0])) if level > down_to_db]
    with_q = ((f, sf, np.pi * f / np.exp(d), sd, part) for f, sf, d, sd, part in told)
    return [[float(x) for x in (f, sf, q, q * sd, part)] for f, sf, q, sd, part in with_q]


def main():
    job = json.load(open(sys.argv[1]))
    samples = np.fromfile(job["file"], dtype="<f4")
    taps = [(samples[t["offset"]:t["offset"] + t["length"]], t["rate"], t["onset"]) for t in job["taps"]]
    out = []
    first = 0
    for count in job["counts"]:
        begin = time.process_time()
        modes = read(taps[first:first + count], job["downToDb"]) if count else []
        out.append({"ms": 1000 * (time.process_time() - begin), "modes": modes})
        first += count
    json.dump(out, sys.stdout)


main()
