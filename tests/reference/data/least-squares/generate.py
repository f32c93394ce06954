#!/usr/bin/env python3
"""Weighted least squares of a reflectometer's three error terms from five noisy standards, by a
general-purpose optimiser on six real unknowns: no closed form, no linear start. Usage: python3 generate.py OUT.json
(needs numpy and scipy)"""
import json, sys
import numpy as np
from scipy.optimize import least_squares

rng = np.random.default_rng(20)
known = np.array([1 * np.exp(-0.04j), -1 * np.exp(0.03j), 0.01 - 0.02j, -1 / 3 + 0.02j, 0.5 + 0.45j])
tests = np.array([0, 0.3 + 0.6j, -0.8 + 0.1j, 1j])
cases = [  # e00, e11, e10e01, standard deviation (one quadrature) of each reading
    (0.10 - 0.05j, -0.2 + 0.15j, 0.4 + 0.3j, [2e-3, 1e-3, 3e-3, 1e-3, 2e-3]),
    (0.03 + 0.01j, 0.6 - 0.3j, 0.02 - 0.01j, [2e-4, 1e-4, 1e-4, 4e-4, 1e-4]),
    (0.01j, 0.05, 0.9j, [0.03, 0.03, 0.02, 0.02, 0.05]),
]

def model(p, g):
    e00, e11, t = p[0] + 1j * p[1], p[2] + 1j * p[3], p[4] + 1j * p[5]
    return e00 + t * g / (1 - e11 * g)

def solve(raw, sigma, start):
    def residual(p):
        r = (raw - model(p, known)) / sigma
        return np.concatenate([r.real, r.imag])
    p = start
    for _ in range(3):
        p = least_squares(residual, p, method='lm', x_scale='jac', jac='3-point', xtol=1e-15, ftol=1e-15, gtol=1e-15).x
    return p

def corrected(p, m):
    e00, e11, t = p[0] + 1j * p[1], p[2] + 1j * p[3], p[4] + 1j * p[5]
    return (m - e00) / (t + e11 * (m - e00))

pair = lambda z: [float(np.real(z)), float(np.imag(z))]
out = []
for e00, e11, t, sigma in cases:
    sigma = np.array(sigma)
    truth = np.array([x for z in (e00, e11, t) for x in (z.real, z.imag)])
    exact = model(truth, known)
    raw = exact + sigma * (rng.standard_normal(5) + 1j * rng.standard_normal(5))
    found = solve(raw, sigma, truth)
    # what a small error in one reading does to the corrected reading of others, by differences of whole solutions
    moved = []
    for k in range(5):
        step = 1e-4 * abs(t)
        plus, minus = exact.copy(), exact.copy()
        plus[k] += step
        minus[k] -= step
        m = model(truth, tests)
        d = (corrected(solve(plus, sigma, truth), m) - corrected(solve(minus, sigma, truth), m)) / (2 * step)
        moved.append([pair(z) for z in d])
    residual = raw - model(found, known)
    out.append(dict(true=dict(directivity=pair(e00), sourceMatch=pair(e11), tracking=pair(t)),
                    variance=[float(2 * s * s) for s in sigma], raw=[pair(z) for z in raw],
                    directivity=pair(found[0] + 1j * found[1]), sourceMatch=pair(found[2] + 1j * found[3]),
                    tracking=pair(found[4] + 1j * found[5]), chi_squared=float(np.sum(np.abs(residual / sigma) ** 2)),
                    sensitivity=moved))
json.dump(dict(known=[pair(z) for z in known], tests=[pair(z) for z in tests], cases=out), open(sys.argv[1], 'w'), indent=1)
