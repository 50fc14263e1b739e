"""Nanoseconds for one call of the C library GSW, by the names of our own kernels."""
import json
import time

import gsw
import numpy

N = 100_000
i = numpy.arange(N)
sp, t = 3 + 37 * (i * 7919 % 1000) / 1000, 40 * (i % 1000) / 1000
sa = sp * 35.16504 / 35
c, ct = gsw.C_from_SP(sp, t, 0), gsw.CT_from_t(sa, t, 0)
rho = gsw.rho(sa, ct, 0)


def best(f):
    times = []
    for _ in range(20):
        began = time.perf_counter()
        f()
        times.append(time.perf_counter() - began)
    return min(times) / N * 1e9


print(json.dumps({
    "Density": best(lambda: gsw.rho(sa, ct, 0)),
    "Conductivity": best(lambda: gsw.C_from_SP(sp, t, 0)),
    "SalinityFromConductivity": best(lambda: gsw.SP_from_C(c, t, 0)),
    "AbsoluteSalinityFromDensity": best(lambda: gsw.SA_from_rho(rho, ct, 0)),
}))
