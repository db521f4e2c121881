"""All generated kernels against numpy written by hand for the same formulas, as ratios.

Run on demand: ``python tests/benchmarks/kernels.py``. A million points, best of several rounds
taken in turns. Aim: 1.5 or less.
"""

import time

import numpy as np

from mountcalc.linkage import kernels

POINTS = 1_000_000
ROUNDS = 9
MOUNT = (-0.6, -0.33, -0.51, -0.10, 0.0, 0.0, 0.038, 0.114)
JACK = (-0.6, -0.33, -0.6, -0.03, -1.0, 0.05, 0.99, 0.1)
LINK = (0.18, -0.34, 0.52, -0.36, 0.52, -0.56)
POINT = (-0.6, -0.33, -0.51, -0.10)


def belt_path_by_hand(phi, h_x, h_y, m_x, m_y, d_x, d_y, r, big_r):
    cos, sin = np.cos(phi), np.sin(phi)
    a_x, a_y = m_x - h_x, m_y - h_y
    g_x = d_x - h_x - (cos * a_x - sin * a_y)
    g_y = d_y - h_y - (sin * a_x + cos * a_y)
    square = g_x * g_x + g_y * g_y
    distance = np.sqrt(square)
    span_squared = square - (big_r - r) ** 2
    span = np.sqrt(span_squared)
    length = 2 * span + np.pi * (big_r + r) + 2 * (big_r - r) * np.arcsin((big_r - r) / distance)
    turning = g_x * (sin * a_x + cos * a_y) - g_y * (cos * a_x - sin * a_y)
    return distance, span_squared, length, 2 * span * turning / square


def open_belt_by_hand(distance, r, big_r):
    span = np.sqrt(distance * distance - (big_r - r) ** 2)
    beta = np.arctan2(big_r - r, span)
    length = 2 * (span + (big_r - r) * beta) + np.pi * (big_r + r)
    return length, 2 * span / distance, span, beta


def swing_to_by_hand(distance, h_x, h_y, m_x, m_y, d_x, d_y):
    a_x, a_y, b_x, b_y = m_x - h_x, m_y - h_y, d_x - h_x, d_y - h_y
    a, b = np.sqrt(a_x * a_x + a_y * a_y), np.sqrt(b_x * b_x + b_y * b_y)
    square = distance * distance
    past, within = square - (a - b) ** 2, (a + b) ** 2 - square
    sine, cosine = np.sqrt(past * within), 0.5 * (within - past)
    dot, cross = a_x * b_x + a_y * b_y, a_x * b_y - a_y * b_x
    one, other, third, fourth = cross * cosine, dot * sine, dot * cosine, cross * sine
    plus, minus = np.arctan2(one + other, third - fourth), np.arctan2(one - other, third + fourth)
    return plus, minus, past, within


def strands_by_hand(phi, h_x, h_y, m_x, m_y, d_x, d_y, r, big_r):
    cos, sin = np.cos(phi), np.sin(phi)
    a_x, a_y = m_x - h_x, m_y - h_y
    t_x, t_y = cos * a_x - sin * a_y, sin * a_x + cos * a_y
    g_x, g_y = d_x - h_x - t_x, d_y - h_y - t_y
    distance = np.sqrt(g_x * g_x + g_y * g_y)
    u_x, u_y = g_x / distance, g_y / distance
    lean = (big_r - r) / distance
    level = np.sqrt(1 - lean * lean)
    plus_x, plus_y = level * u_x - lean * u_y, level * u_y + lean * u_x
    minus_x, minus_y = level * u_x + lean * u_y, level * u_y - lean * u_x
    # The touching point is a radius square to the strand, so the radius adds itself to the arm.
    plus = (t_y * plus_x - t_x * plus_y + r, plus_x, plus_y, -plus_y, plus_x)
    minus = (t_y * minus_x - t_x * minus_y - r, minus_x, minus_y, minus_y, -minus_x)
    return np.arcsin(lean), *plus, *minus


def plate_point_by_hand(phi, h_x, h_y, p_x, p_y):
    cos, sin = np.cos(phi), np.sin(phi)
    a_x, a_y = p_x - h_x, p_y - h_y
    t_x = cos * a_x - sin * a_y
    return h_x + t_x, h_y + sin * a_x + cos * a_y, t_x


def jack_in_base_by_hand(phi, h_x, h_y, p_x, p_y, e_x, e_y, n_x, n_y):
    cos, sin = np.cos(phi), np.sin(phi)
    v_x, v_y = n_x * cos - n_y * sin, n_x * sin + n_y * cos
    d_x, d_y = p_x - h_x, p_y - h_y
    bite = e_x * v_x + e_y * v_y
    extension = ((d_x * n_x + d_y * n_y) - (d_x * v_x + d_y * v_y)) / bite
    a_x, a_y = p_x + extension * e_x, p_y + extension * e_y
    f_x, f_y = v_x / bite, v_y / bite
    slope = (a_x - h_x) * f_y - (a_y - h_y) * f_x
    return extension, slope, bite, f_x, f_y, a_x, a_y


def jack_in_plate_by_hand(phi, h_x, h_y, p_x, p_y, e_x, e_y, n_x, n_y):
    cos, sin = np.cos(phi), np.sin(phi)
    a_x, a_y = p_x - h_x, p_y - h_y
    t_x, t_y = cos * a_x - sin * a_y, sin * a_x + cos * a_y
    v_x, v_y = cos * e_x - sin * e_y, sin * e_x + cos * e_y
    bite = n_x * v_x + n_y * v_y
    extension = (n_x * (a_x - t_x) + n_y * (a_y - t_y)) / bite
    arm_x, arm_y = t_x + extension * v_x, t_y + extension * v_y
    slope = (n_x * arm_y - n_y * arm_x) / bite
    return extension, slope, bite, -n_x / bite, -n_y / bite, h_x + arm_x, h_y + arm_y


def link_by_hand(phi, h_x, h_y, q_x, q_y, b_x, b_y):
    cos, sin = np.cos(phi), np.sin(phi)
    a_x, a_y = q_x - h_x, q_y - h_y
    t_x, t_y = cos * a_x - sin * a_y, sin * a_x + cos * a_y
    pin_x, pin_y = h_x + t_x, h_y + t_y
    l_x, l_y = pin_x - b_x, pin_y - b_y
    length = np.sqrt(l_x * l_x + l_y * l_y)
    u_x, u_y = l_x / length, l_y / length
    drawn = np.sqrt((q_x - b_x) ** 2 + (q_y - b_y) ** 2)
    return length - drawn, t_x * u_y - t_y * u_x, length, u_x, u_y, pin_x, pin_y


PAIRS = {
    "belt_path": (kernels.belt_path, belt_path_by_hand, MOUNT),
    "open_belt": (kernels.open_belt, open_belt_by_hand, (0.038, 0.114)),
    "swing_to": (kernels.swing_to, swing_to_by_hand, MOUNT[:6]),
    "strands": (kernels.strands, strands_by_hand, MOUNT),
    "plate_point": (kernels.plate_point, plate_point_by_hand, POINT),
    "jack_in_base": (kernels.jack_in_base, jack_in_base_by_hand, JACK),
    "jack_in_plate": (kernels.jack_in_plate, jack_in_plate_by_hand, JACK),
    "link": (kernels.link, link_by_hand, LINK),
}


def seconds(function, phi, arguments):
    start = time.perf_counter()
    function(phi, *arguments)
    return time.perf_counter() - start


def main():
    swing = np.random.default_rng(1).uniform(-0.3, 0.3, POINTS)
    distance = 0.6 + 0.5 * swing  # what the motor reaches as it swings
    total = {"compiled": 0.0, "by hand": 0.0}
    assert set(PAIRS) == set(kernels.__all__)
    for name, (compiled, by_hand, arguments) in PAIRS.items():
        phi = distance if name in {"open_belt", "swing_to"} else swing
        for one, other in zip(compiled(phi, *arguments), by_hand(phi, *arguments), strict=True):
            np.testing.assert_allclose(one, other, rtol=1e-9, atol=1e-12)
        best = {"compiled": float("inf"), "by hand": float("inf")}
        for _ in range(ROUNDS):
            best["compiled"] = min(best["compiled"], seconds(compiled, phi, arguments))
            best["by hand"] = min(best["by hand"], seconds(by_hand, phi, arguments))
        for key, value in best.items():
            total[key] += value
        print(
            f"{name:14} {best['compiled']:.4f} s   ratio {best['compiled'] / best['by hand']:.2f}"
        )
    print(
        f"{'all':14} {total['compiled']:.4f} s   ratio {total['compiled'] / total['by hand']:.2f}"
    )


if __name__ == "__main__":
    main()
