"""Solve or time assignment problems with scipy.

Usage: python3 second.py [SECONDS] < MATRICES
MATRICES is one after the other: rows and columns as two 4-byte integers, then
the costs row by row as 8-byte floats, all little-endian; inf forbids a pair.
Prints a line for each: the least total cost, or "none" if there is no way. With
SECONDS prints nanoseconds instead: the median of as many runs as go into that
time, at least three, with nothing but the call between the two looks at the
clock.
"""

import sys
import time

import numpy as np
from scipy.optimize import linear_sum_assignment


def matrices(data):
    at = 0
    while at < len(data):
        n, m = np.frombuffer(data, "<i4", 2, at)
        at += 8
        yield np.frombuffer(data, "<f8", n * m, at).reshape(n, m).copy()
        at += 8 * int(n) * int(m)


def cost(c):
    try:
        rows, columns = linear_sum_assignment(c)
    except ValueError:
        return "none"
    return repr(float(c[rows, columns].sum()))


def nanoseconds(c, seconds):
    took = []
    end = time.perf_counter() + seconds
    while len(took) < 3 or time.perf_counter() < end:
        t = time.process_time_ns()
        linear_sum_assignment(c)
        took.append(time.process_time_ns() - t)
    return repr(float(np.median(took)))


for matrix in matrices(sys.stdin.buffer.read()):
    print(nanoseconds(matrix, float(sys.argv[1])) if len(sys.argv) > 1 else cost(matrix))
