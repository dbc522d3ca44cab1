"""Solves the invented plans of tests/plan/invented.rs with other programs.

    pip install scipy==1.17.1
    python solved.py > solved.csv

The plans are dealt by the same simple random numbers here and there. Those without a limit on
kinship are solved by HiGHS through scipy.optimize.milp; those with one are small, and every plan
that there is gets looked at.
"""

import itertools

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp


class Dice:
    def __init__(self, seed):
        self.state = seed

    def below(self, n):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 33) % n


def deal(number, small):
    dice = Dice(number)
    n_parents = 4 + dice.below(3 if small else 15)
    pairs = list(itertools.combinations(range(n_parents), 2))
    pairs = [pair for pair in pairs if dice.below(4) > 0]
    if small:
        pairs = pairs[:9]
    choices = []
    for pair in pairs:
        worth = (50 + dice.below(400)) / 1000
        least = 1 + dice.below(3 if small else 12)
        most = least + dice.below(5 if small else 30)
        must = dice.below(40) == 0
        choices.append((pair, worth, least, most, must))
    limits = {
        "places": 8 + dice.below(8) if small else 40 + dice.below(160),
        "pairs": 2 + dice.below(2) if small else 2 + dice.below(9),
        "per_parent": 1 + dice.below(3),
    }
    if not small:
        return n_parents, choices, limits, None
    # Coancestries: shares of six marks that two plants have in common.
    marks = [[dice.below(2) for _ in range(6)] for _ in range(n_parents)]
    among = [[sum(a * b for a, b in zip(x, y)) / 12 for y in marks] for x in marks]
    own = [dice.below(60) / 1000 for _ in choices]
    return n_parents, choices, limits, (among, own, (80 + dice.below(120)) / 1000)


def by_highs(n_parents, choices, limits):
    n = len(choices)
    rows, low, high = [], [], []

    def add(row, lower, upper):
        rows.append(row)
        low.append(lower)
        high.append(upper)

    for at, (_, _, least, most, _) in enumerate(choices):
        row = np.zeros(2 * n)
        row[at], row[n + at] = 1, -most
        add(row, -np.inf, 0)
        row = np.zeros(2 * n)
        row[at], row[n + at] = 1, -least
        add(row, 0, np.inf)
    add(np.r_[np.ones(n), np.zeros(n)], 0, limits["places"])
    add(np.r_[np.zeros(n), np.ones(n)], 0, limits["pairs"])
    for parent in range(n_parents):
        row = np.zeros(2 * n)
        for at, choice in enumerate(choices):
            row[n + at] = parent in choice[0]
        add(row, 0, limits["per_parent"])
    worth = np.array([-choice[1] for choice in choices])
    lower = np.r_[np.zeros(n), [float(choice[4]) for choice in choices]]
    upper = np.r_[[choice[3] for choice in choices], np.ones(n)]
    answer = milp(
        np.r_[worth, np.zeros(n)],
        constraints=LinearConstraint(np.array(rows), low, high),
        bounds=Bounds(lower, upper),
        integrality=np.ones(2 * n),
        options={"mip_rel_gap": 0},
    )
    return None if answer.status == 2 else -answer.fun


def by_looking(n_parents, choices, limits, kin):
    among, own, most = np.array(kin[0]), kin[1], kin[2]
    best = None
    for k in range(1, limits["pairs"] + 1):
        for chosen in itertools.combinations(range(len(choices)), k):
            if any(c[4] and at not in chosen for at, c in enumerate(choices)):
                continue
            parents = [parent for at in chosen for parent in choices[at][0]]
            if any(parents.count(parent) > limits["per_parent"] for parent in parents):
                continue
            shares = np.zeros((k, n_parents))
            for row, at in enumerate(chosen):
                for parent in choices[at][0]:
                    shares[row, parent] += 0.5
            together = shares @ among @ shares.T
            for places in itertools.product(
                *(range(choices[at][2], choices[at][3] + 1) for at in chosen)
            ):
                total = sum(places)
                if total > limits["places"]:
                    continue
                worth = sum(n * choices[at][1] for n, at in zip(places, chosen))
                if best is not None and worth <= best:
                    continue
                n = np.array(places)
                alone = sum(m * own[at] for m, at in zip(places, chosen))
                if (n @ together @ n + alone) / total**2 <= most + 1e-12:
                    best = worth
    return best


print("plan,optimum")
for number in range(1, 201):
    small = number % 4 == 0
    n_parents, choices, limits, kin = deal(number, small)
    best = (
        by_looking(n_parents, choices, limits, kin)
        if small
        else by_highs(n_parents, choices, limits)
    )
    print(f"{number},{'' if best is None else format(best, '.9f')}")
