"""The bore of bench/vessel.ts by scipy: same polar grid, conjugate gradients with a Jacobi preconditioner, one core."""
import json
import sys
import time

import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as sla

nr, nphi, nz = (int(a) for a in sys.argv[1:4])
tol = float(sys.argv[4])
R, L = 0.02, 0.8


def build():
    h, s, dz = R / nr, 2 * np.pi / nphi, L / nz
    r = (np.arange(nr) + 0.5) * h
    phi = -np.pi / 2 + np.arange(nphi) * s
    sine = np.sin(phi)
    plane = ((490 - 65 * (r / R)[None, :] * sine[:, None]) / 300) ** 0.75
    kappa = np.broadcast_to(plane, (nz, nphi, nr))
    wall_kappa = ((490 - 65 * sine) / 300) ** 0.75
    wall = np.zeros((nz, nphi))
    k = np.arange(nz)
    wall[np.ix_((k >= nz / 4) & (k < nz - nz / 4), sine < -1e-9)] = 1
    index = np.arange(nz * nphi * nr).reshape(nz, nphi, nr)
    cr = 0.5 * (kappa[:, :, 1:] + kappa[:, :, :-1]) * (np.arange(1, nr) * s * dz)
    chord = (s / 2 / np.sin(s / 2)) ** 2
    cp = 0.5 * (kappa + np.roll(kappa, -1, axis=1)) * (dz / s * chord / (np.arange(nr) + 0.5))
    cz = 0.5 * (kappa[1:] + kappa[:-1]) * ((np.arange(nr) + 0.5) * h * h * s / dz)
    cw = 2 * nr * s * dz * 0.5 * (kappa[:, :, -1] + wall_kappa)
    pairs = [
        (index[:, :, :-1], index[:, :, 1:], cr),
        (index, np.roll(index, -1, axis=1), cp),
        (index[:-1], index[1:], cz),
    ]
    n = index.size
    a = np.concatenate([p[0].ravel() for p in pairs])
    b = np.concatenate([p[1].ravel() for p in pairs])
    c = np.concatenate([p[2].ravel() for p in pairs])
    diagonal = np.bincount(a, c, n) + np.bincount(b, c, n)
    diagonal[index[:, :, -1].ravel()] += cw.ravel()
    rhs = np.zeros(n)
    rhs[index[:, :, -1].ravel()] = (cw * wall).ravel()
    rows = np.concatenate([a, b, np.arange(n)])
    columns = np.concatenate([b, a, np.arange(n)])
    matrix = sp.csr_matrix((np.concatenate([-c, -c, diagonal]), (rows, columns)), shape=(n, n))
    inverse = 1 / diagonal
    return matrix, rhs, sla.LinearOperator((n, n), matvec=lambda x: inverse * x), index


best = None
for _ in range(3):
    t0, c0 = time.perf_counter(), time.process_time()
    matrix, rhs, jacobi, index = build()
    t1 = time.perf_counter()
    count = 0

    def tick(_):
        global count
        count += 1

    try:
        u, info = sla.cg(matrix, rhs, rtol=tol, atol=0, M=jacobi, maxiter=20000, callback=tick)
    except TypeError:  # older scipy
        u, info = sla.cg(matrix, rhs, tol=tol, atol=0, M=jacobi, maxiter=20000, callback=tick)
    t2, c2 = time.perf_counter(), time.process_time()
    assert info == 0
    run = {
        "assembly": (t1 - t0) * 1e3,
        "solution": (t2 - t1) * 1e3,
        "cpu": (c2 - c0) * 1e3,
        "iterations": count,
        "probe": float(u[index[int(nz * 0.5), 0, 3]]),
        "residual": float(np.linalg.norm(rhs - matrix @ u) / np.linalg.norm(rhs)),
    }
    if best is None or run["cpu"] < best["cpu"]:
        best = run
print(json.dumps(best))
