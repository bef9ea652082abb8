#!/usr/bin/env python3
"""The other side of bench/medium.ts: scipy's vectorised wofz doing the same work, on one core.

Reads from standard input: one line of JSON, then raw doubles. Prints one line of JSON with seconds per task (least of the
repeats; of the processor for the index) and a few results to compare.
"""
import json
import sys
import time

import numpy as np
from scipy.special import wofz


def least(task, repeats, clock):
    best = float("inf")
    for _ in range(repeats):
        start = clock()
        task()
        best = min(best, clock() - start)
    return best


def main():
    header = json.loads(sys.stdin.buffer.readline())
    points = header["points"]
    results = {"scipy": __import__("scipy").__version__, "numpy": np.__version__, "boxes": []}
    for _ in header["boxes"]:
        x = np.frombuffer(sys.stdin.buffer.read(8 * points))
        y = np.frombuffer(sys.stdin.buffer.read(8 * points))
        z = x + 1j * y
        results["boxes"].append(least(lambda z=z: wofz(z), header["repeats"], time.perf_counter) / points)

    c = header["c"]
    lam = np.linspace(header["from"], header["to"], header["wavelengths"])
    packed = np.array(header["packed"]).reshape(-1, 5)

    def index():
        omega = 2 * np.pi * c / lam
        chi = np.zeros(len(omega), complex)
        for own, centre, half, sigma, amplitude in packed:
            z = (omega - centre + 1j * half) / sigma
            chi += amplitude * (1j * np.sqrt(np.pi) / sigma * wofz(z) + 1 / (own + omega))
        minus_one = chi / (1 + np.sqrt(1 + chi))
        return minus_one.real, 2 * omega * minus_one.imag / c

    results["index"] = least(index, header["indexRepeats"], time.process_time)
    refractivity, absorption = index()
    pick = slice(0, None, header["pick"])
    results["refractivity"] = refractivity[pick].tolist()
    results["absorption"] = absorption[pick].tolist()
    print(json.dumps(results))


main()
