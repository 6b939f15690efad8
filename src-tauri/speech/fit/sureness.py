"""Fits the sureness of a hearing: a logistic model over its evidence.

Usage: sureness.py FEATURES.tsv...

The files are what `cargo xtask bench hearing -- --tune --features FEATURES.tsv` writes: a line is one
clip, whether its likeliest candidate was what was said, and the evidence by name. Prints the
coefficients as they stand in `src/hearing/sureness.rs`, and how well they hold on clips that were
not fitted (five parts in turn, by utterance): calibration, and what would be taken and how much of
that wrong.

Only Python's own library, so that it runs wherever the project does.
"""

import csv
import math
import sys

# Keeps coefficients small where the clips say little.
RIDGE = 1.0


def inputs(e):
    return [
        1.0,
        min(e["odds"], e["sound_odds"] + 1.0),
        e["margin"],
        max(e["mean"], -2.0),
        e["unsaid"],
        max(e["expectation"], -2.5),
        math.log(e["acts"]),
    ]


# Left out: whether the free text agrees or shares its words, whether the cylinder was named, what was
# left unresolved. Their coefficients were next to nothing or of the wrong sign.
EVIDENCE = {"odds", "sound_odds", "margin", "mean", "unsaid", "expectation", "acts"}
INPUTS = ["constant", "odds", "margin", "mean", "unsaid", "expectation", "acts"]


def chance(weights, x):
    z = sum(w * v for w, v in zip(weights, x))
    return 1.0 / (1.0 + math.exp(-max(-40.0, min(40.0, z))))


def solve(a, b):
    n = len(b)
    m = [row[:] + [b[i]] for i, row in enumerate(a)]
    for i in range(n):
        p = max(range(i, n), key=lambda r: abs(m[r][i]))
        m[i], m[p] = m[p], m[i]
        for r in range(i + 1, n):
            f = m[r][i] / m[i][i]
            for c in range(i, n + 1):
                m[r][c] -= f * m[i][c]
    x = [0.0] * n
    for i in reversed(range(n)):
        x[i] = (m[i][n] - sum(m[i][c] * x[c] for c in range(i + 1, n))) / m[i][i]
    return x


def fit(rows):
    """Newton's method on the log likelihood with a ridge."""
    n = len(rows[0][0])
    weights = [0.0] * n
    for _ in range(30):
        gradient = [-RIDGE * w if i else 0.0 for i, w in enumerate(weights)]
        hessian = [[RIDGE if i == j and i else 1e-9 * (i == j) for j in range(n)] for i in range(n)]
        for x, y in rows:
            p = chance(weights, x)
            for i in range(n):
                gradient[i] += (y - p) * x[i]
                for j in range(n):
                    hessian[i][j] += p * (1 - p) * x[i] * x[j]
        step = solve(hessian, gradient)
        weights = [w + s for w, s in zip(weights, step)]
        if max(map(abs, step)) < 1e-6:
            break
    return weights


def main():
    rows = []
    for path in sys.argv[1:]:
        with open(path) as lines:
            for clip in csv.DictReader(lines, delimiter="\t"):
                # Nothing was made out: there is nothing to be sure of.
                if clip["odds"]:
                    evidence = {k: float(v) for k, v in clip.items() if k in EVIDENCE}
                    rows.append((clip["id"], inputs(evidence), float(clip["right"])))
    # The same utterance under other noise must not be on both sides.
    names = sorted({name for name, _, _ in rows})
    part = {name: i % 5 for i, name in enumerate(names)}
    judged = []
    for k in range(5):
        weights = fit([(x, y) for name, x, y in rows if part[name] != k])
        judged += [(chance(weights, x), y) for name, x, y in rows if part[name] == k]
    judged.sort(reverse=True)
    print(f"{len(rows)} clips, {sum(y for _, y in judged):.0f} right")
    error = 0.0
    for low in [0.0, 0.1, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99, 0.995]:
        high = {0.0: 0.1, 0.1: 0.3, 0.3: 0.5, 0.5: 0.7, 0.7: 0.8, 0.8: 0.9, 0.9: 0.95, 0.95: 0.98,
                0.98: 0.99, 0.99: 0.995, 0.995: 1.01}[low]
        inside = [(p, y) for p, y in judged if low <= p < high]
        if inside:
            said = sum(p for p, _ in inside) / len(inside)
            was = sum(y for _, y in inside) / len(inside)
            error += abs(said - was) * len(inside) / len(judged)
            print(f"  said {said:.3f}  was {was:.3f}  of {len(inside)}")
    print(f"expected calibration error {error:.4f}")
    for threshold in [0.8, 0.9, 0.95, 0.97, 0.98, 0.985, 0.99, 0.995]:
        taken = [y for p, y in judged if p >= threshold]
        if taken:
            wrong = len(taken) - sum(taken)
            print(f"  sure from {threshold}: {len(taken)} taken, {wrong:.0f} wrong")
    for name, weight in zip(INPUTS, fit([(x, y) for _, x, y in rows])):
        print(f"    {name}: {weight:.3f},")


if __name__ == "__main__":
    main()
