"""Posterior of the random cases with a general-purpose Bayesian network library.

    cargo run --release -p borespoke-core --example judgement_cases | python reference.py > posteriors.json

Everything but the rows of the model is written again here: the states of a cylinder, what they
predict, the likelihoods (with full covariance matrices and numpy's linear algebra), the level prior,
the shared causes. pyAgrum then does the inference on the whole network, gaskets, banks and all.
The result is committed as `posteriors.json`; a Rust test compares it to 1e-9.
"""

import itertools
import json
import math
import sys

import numpy as np
import pyagrum as gum

UNITS = {"psi": 0.45359237 * 9.80665 / 0.0254**2, "kPa": 1e3, "bar": 1e5, "kgf/cm2": 98066.5}
EXITS = ["intake", "exhaust", "oil filler", "coolant", "next plug hole", "fitting"]
USUAL_AIR = [0.03, 0.03, 0.30, 0.005, 0.01, 0.03]
SIGNS = [
    "normal", "dry-carbon", "oil-wet", "fuel-wet", "blistered-white", "glazed", "bridged", "ash",
    "melted", "cracked", "metal-specks", "worn",
]
USUAL_SIGNS = [0.62, 0.08, 0.05, 0.03, 0.03, 0.03, 0.01, 0.05, 0.005, 0.01, 0.005, 0.08]
USUAL_ODD = 0.03
SHAPES = {"even": (0.62, 0.35), "slow": (0.42, 0.60), "flat": (0.86, 0.30)}
IN_LINE = [[1], [1, 2], [1, 2, 3], [1, 3, 2], [1, 3, 4, 2], [1, 2, 4, 3], [1, 2, 4, 5, 3],
           [1, 5, 3, 6, 2, 4]]


def area(percent):
    p = min(max(percent, 1.0), 99.0) / 100.0
    return math.sqrt(p / (1.0 - p))


def states_of(case):
    """Every set of at most two causes, each at a severity, with its prior."""
    picks = [(i, row, level) for i, row in enumerate(case["causes"]) for level in row["levels"]]
    states = [()]
    states += [(a,) for a in picks]
    states += [(a, b) for a, b in itertools.combinations(picks, 2) if a[0] != b[0]]
    prior = np.array([
        math.prod(row["prior"] / (1 - row["prior"]) * level["share"] for _, row, level in state)
        for state in states
    ])
    return states, prior / prior.sum()


def banks_of(job):
    """[(cylinders, joined, unknown neighbour)]."""
    engine = job["engine"]
    layout = engine.get("layout")
    if layout:
        rows = [row for row in layout if len(row) > 1]
        singles = [c for row in layout if len(row) == 1 for c in row]
        banks = [(row, True, False) for row in rows]
        return banks + ([(singles, False, False)] if singles else [])
    order = engine["firing_order"]
    in_line = order in IN_LINE
    return [(sorted(order), in_line, not in_line)]


def level_rows(case):
    job, rows = case["job"], case["shared"]["levels"]
    conditions = job["conditions"]

    def flip(value):
        return None if value is None else not value

    def zero(measures):
        zeros = [t["zero"] for t in job["testers"] if t["measures"] == measures]
        if any(isinstance(z, dict) for z in zeros):
            return True
        return False if zeros and all(z == "good" for z in zeros) else None

    said = [
        flip(conditions.get("battery_charged")),
        flip(conditions.get("throttle_open")),
        {"cold": True, "hot": False}.get(conditions.get("warmth")),
        zero("cranking-gauge"),
    ]

    def probability(row, said):
        return row["prior"] if said is None else row["said_so"] if said else row["said_not"]

    leak_set = probability(case["shared"]["leak_set"], zero("leak-down-set"))
    return [probability(row, s) for row, s in zip(rows, said)], leak_set


def level_prior(case, on, grid):
    shared = case["shared"]
    shift = sum(math.log(row["left"]) for row, o in zip(shared["levels"], on) if o)
    variance = sum(row["spread"] ** 2 for row, o in zip(shared["levels"], on) if o)

    def bell(row):
        mean = math.log(row["middle"]) + shift
        p = np.exp(-0.5 * (grid - mean) ** 2 / (row["spread"] ** 2 + variance))
        return p / p.sum()

    fuel = case["job"]["engine"].get("fuel")
    petrol, diesel = bell(shared["petrol"]), bell(shared["diesel"])
    if fuel is None:
        return (1 - shared["diesel_share"]) * petrol + shared["diesel_share"] * diesel
    return diesel if fuel == "diesel" else petrol


def gauss(misses, own, common):
    """Density without the power of two pi; `misses` has the readings in its last axis."""
    covariance = np.diag(own) + common
    inverse = np.linalg.inv(covariance)
    _, ln_det = np.linalg.slogdet(covariance)
    quadratic = np.einsum("...i,ij,...j->...", misses, inverse, misses)
    return np.exp(-0.5 * (quadratic + ln_det))


class Cylinder:
    """What is known of one cylinder, on the model's scales."""

    def __init__(self, case, number):
        self.case, self.scatter = case, case["scatter"]
        self.crank, self.leak, self.heard, self.signs = [], [], [], []
        self.looked, self.colour, self.tone = False, None, None
        for entry in case["entries"]:
            if entry.get("cylinder") == number:
                getattr(self, entry["kind"].replace("-", "_"))(entry)

    def cranking(self, entry):
        stated = entry["pressure"]
        gauge = lambda s: math.log(max(s["value"] * UNITS[s["unit"]], 1e4))
        low = gauge(stated["value"])
        high = gauge(stated["up_to"]) if stated.get("up_to") else low
        middle, half = (low + high) / 2, abs(high - low) / 2
        variance = self.scatter["cranking"] ** 2 + half**2 / 3
        if stated["about"]:
            variance += self.scatter["about"] ** 2
        strokes = None
        if entry["stroke"] != "final":
            strokes = entry["stroke"]["after"]
            variance += self.scatter["stroke"] ** 2
        for tester in self.case["job"]["testers"]:
            if tester["name"] == entry.get("tester") and tester.get("resolution"):
                r = tester["resolution"]
                variance += (r["value"] * UNITS[r["unit"]] / math.exp(middle)) ** 2 / 12
        self.crank.append((entry["bore"] == "wet", strokes, middle, variance))

    def leak_down(self, entry):
        stated = entry["reading"]["leak"]
        low = math.log(area(stated["value"]))
        high = math.log(area(stated["up_to"])) if stated.get("up_to") is not None else low
        variance = self.scatter["leak"] ** 2 + (abs(high - low) / 2) ** 2 / 3
        if stated["about"]:
            variance += (4 * self.scatter["about"]) ** 2
        tapped = entry["valves"] == "tapped"
        again = not tapped and any(not t for t, *_ in self.leak)
        self.leak.append((tapped, again, (low + high) / 2, variance))

    def listening(self, entry):
        self.heard.append(entry["at"])

    def look(self, entry):
        self.looked = True
        self.signs += entry.get("signs", [])
        figures = entry.get("figures")
        if figures and figures["balanced"]:
            self.colour = figures["colour"]

    def likelihood(self, states, grid, sides, shift):
        """[state, level] for so many leaking sides."""
        return np.array([
            self.plain(state, sides, shift) * self.cranked(state, grid, sides) for state in states
        ])

    def cranked(self, state, grid, sides):
        if not self.crank:
            return np.ones_like(grid)
        gasket = self.case["shared"]["gasket"]
        levels = [level for _, _, level in state] + [gasket["level"]] * sides
        climbs = [row["climb"] for _, row, _ in state if row["climb"] != "even"]
        climbs += [gasket["climb"]] if sides else []
        shapes = [SHAPES[c] for c in climbs] or [SHAPES["even"]]
        first = sum(s[0] for s in shapes) / len(shapes)
        decay = sum(s[1] for s in shapes) / len(shapes)
        expected, own = [], []
        for wet, strokes, _, variance in self.crank:
            e = sum(math.log(level["wet" if wet else "dry"]) for level in levels)
            if wet:
                e += math.log(self.scatter["wet_gain"])
                variance += sum(level["rise"] ** 2 for level in levels)
            if strokes:
                e += math.log(1 - (1 - first) * decay ** (strokes - 1))
            expected.append(e)
            own.append(variance)
        read = np.array([middle for _, _, middle, _ in self.crank])
        common = self.scatter["between_cylinders"] ** 2 + sum(l["spread"] ** 2 for l in levels)
        right = gauss(read - np.array(expected) - grid[:, None], own, common)
        wide = self.scatter["slip_spread"]
        slip = np.prod(np.exp(-0.5 * ((read - grid[:, None]) / wide) ** 2) / wide, axis=1)
        return (1 - self.scatter["slip"]) * right + self.scatter["slip"] * slip

    def plain(self, state, sides, shift):
        value = 1.0
        if self.leak:
            value *= self.leaked(state, sides, shift)
        if self.heard:
            gasket = self.case["shared"]["gasket"]["air"]
            for exit, usual in zip(EXITS, USUAL_AIR):
                silent = 1 - usual
                if exit == "next plug hole":
                    silent *= (1 - gasket) ** sides
                for _, row, _ in state:
                    silent *= math.prod(1 - sure for at, sure in row["air"] if at == exit)
                if exit in self.heard:
                    value *= 1 - silent
                elif "nowhere" in self.heard:
                    value *= silent
                else:
                    value *= 1 - self.scatter["listened"] * (1 - silent)
        often = dict(zip(SIGNS, USUAL_SIGNS))
        for _, row, _ in state:
            for sign, frequency in row["signs"]:
                often[sign] = max(often[sign], frequency)
        for sign in self.signs:
            value *= often[sign] / sum(often.values())
        darker = max([USUAL_ODD] + [row["darker"] for _, row, _ in state])
        lighter = max([USUAL_ODD] + [row["lighter"] for _, row, _ in state])
        if self.tone:
            value *= {"darker": darker, "lighter": lighter, "like": 1 - darker - lighter}[self.tone]
        return value

    def leaked(self, state, sides, shift):
        sound = area(self.scatter["sound_leak"])
        gasket = (area(self.case["shared"]["gasket"]["level"]["leak"]) - sound) * sides
        read = np.array([ln for _, _, ln, _ in self.leak])
        own = [variance for *_, variance in self.leak]
        fleeting = [row["kind"] == "test" for _, row, _ in state]
        total = 0.0
        # A fault of the test stays or goes after half a turn; the others stay.
        for stays in itertools.product(*[(True, False) if f else (True,) for f in fleeting]):
            chance, expected = 1.0, []
            for stay, f, (_, row, _) in zip(stays, fleeting, state):
                if f:
                    chance *= row["after_turn"] if stay else 1 - row["after_turn"]
            for tapped, again, *_ in self.leak:
                size = sound + gasket
                for stay, (_, row, level) in zip(stays, state):
                    own_size = area(level["leak"]) - sound
                    if tapped:
                        own_size *= row["after_tap"]
                    elif again and not stay:
                        own_size = 0.0
                    size += own_size
                expected.append(math.log(size) + shift)
            misses = read - np.array(expected)
            total += chance * gauss(misses, own, self.scatter["leak_between"] ** 2)
        return total


def compare_plugs(cylinders):
    looked = [c for c in cylinders if c.signs]
    if len(looked) >= 3:
        whole = [
            s for s in SIGNS
            if s != "normal" and 2 * sum(s in c.signs for c in looked) > len(looked)
        ]
        for c in cylinders:
            c.signs = [s for s in c.signs if s not in whole]
    colours = [c.colour for c in cylinders if c.colour]
    if len(colours) >= 3:
        middle = {k: float(np.median([c[k] for c in colours])) for k in "lab"}
        for c in cylinders:
            if c.colour:
                far = math.sqrt(sum((c.colour[k] - middle[k]) ** 2 for k in "lab")) >= 15.0
                darker = c.colour["l"] < middle["l"]
                c.tone = ("darker" if darker else "lighter") if far else "like"


def posterior(case):
    grid = case["grid"]["lowest"] + case["grid"]["step"] * np.arange(case["grid"]["points"])
    points = len(grid)
    shared = case["shared"]
    states, prior = states_of(case)
    count = len(case["job"]["engine"]["firing_order"])
    cylinders = [Cylinder(case, number) for number in range(1, count + 1)]
    compare_plugs(cylinders)
    level, leak_set = level_rows(case)
    any_leak = any(c.leak for c in cylinders)
    steps = round(-math.log(shared["timing"]["left"]) / case["grid"]["step"])

    bn = gum.BayesNet()

    def binary(name, p):
        bn.add(gum.LabelizedVariable(name, name, 2))
        bn.cpt(name).fillWith([1 - p, p])

    def linked(name, size, parents, table):
        """`table` has the parents' axes in order, then the node's own."""
        bn.add(gum.LabelizedVariable(name, name, size))
        for parent in parents:
            bn.addArc(parent, name)
        cpt = bn.cpt(name)
        shape = [bn.variable(p).domainSize() for p in parents]
        for index in itertools.product(*[range(n) for n in shape]):
            cpt[dict(zip(parents, index))] = table[index]

    for i, p in enumerate(level):
        binary(f"level{i}", p)
    binary("set", leak_set)
    table = {on: level_prior(case, on, grid) for on in itertools.product([0, 1], repeat=4)}
    linked("E", points, [f"level{i}" for i in range(4)], table)
    gaskets = []
    for b, (row, joined, unknown) in enumerate(banks_of(case["job"])):
        binary(f"timing{b}", shared["timing"]["prior"])
        edges = {c: [] for c in row}
        pairs = list(zip(row, row[1:])) if joined else [(c,) for c in row] if unknown else []
        for pair in pairs:
            name = "gasket" + "_".join(map(str, pair))
            binary(name, shared["gasket"]["prior"])
            gaskets.append((sorted(pair), name))
            for c in pair:
                edges[c].append(name)
        for c in row:
            state = f"state{c}"
            bn.add(gum.LabelizedVariable(state, state, len(states)))
            bn.cpt(state).fillWith(list(prior))
            most = 0.0
            by = {}
            for sides in range(len(edges[c]) + 1):
                for off in (0, 1):
                    shift = shared["leak_set"]["shift"] if off else 0.0
                    value = cylinders[c - 1].likelihood(states, grid, sides, shift)
                    by[sides, off] = value
                    most = max(most, value.max())
            # One likelihood per parents' values, as the chance of a thing that was seen.
            name = f"seen{c}"
            parents = [state, "E", f"timing{b}", "set"] + edges[c]
            bn.add(gum.LabelizedVariable(name, name, 2))
            for parent in parents:
                bn.addArc(parent, name)
            late = np.maximum(np.arange(points) - steps, 0)
            shape = (len(states), points, 2, 2) + (2,) * len(edges[c])
            seen = np.zeros(shape)
            for index in itertools.product([0, 1], [0, 1], *[[0, 1]] * len(edges[c])):
                timing, off, *leaking = index
                value = by[sum(leaking), off] / most
                seen[(slice(None), slice(None)) + index] = value[:, late] if timing else value
            # pyAgrum's own order is the variable first, then its parents, the first one fastest.
            flat = np.stack([1 - seen, seen])
            bn.cpt(name).fillWith(flat.flatten(order="F").tolist())
    engine = gum.LazyPropagation(bn)
    engine.setEvidence({f"seen{c}": 1 for c in range(1, count + 1)})
    engine.makeInference()
    of = lambda name: [round(float(x), 13) for x in engine.posterior(name).toarray()]
    causes = []
    for c in range(1, count + 1):
        p = of(f"state{c}")
        causes.append([
            round(sum(w for w, state in zip(p, states) if any(i == cause for i, *_ in state)), 13)
            for cause in range(len(case["causes"]))
        ])
    return {
        "causes": causes,
        "gaskets": [[pair, of(name)[1]] for pair, name in gaskets],
        "levels": [of(f"level{i}")[1] for i in range(4)],
        "timing": [of(f"timing{b}")[1] for b in range(len(banks_of(case["job"])))],
        "leak_set": of("set")[1] if any_leak else leak_set,
    }


def main():
    cases = [json.loads(line) for line in sys.stdin]
    answers = []
    for number, case in enumerate(cases):
        answers.append(posterior(case))
        print(f"{number + 1} of {len(cases)}", file=sys.stderr)
    library = f"pyAgrum {gum.__version__}, numpy {np.__version__}"
    json.dump({"library": library, "cases": answers}, sys.stdout, separators=(",", ":"))
    print()


main()
