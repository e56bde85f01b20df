"""Ranges of scores: statsmodels (PyPI 0.15.0) computes those of games without draws anew, and each range is weighed by what
it promises: that it holds the true score of 30 games in 95 of 100 such matches.

    python intervals.py FOLDER

FOLDER: where `tests/native/counts/scores.rs` wrote `scores.txt`: games won, drawn and lost, their score and its range, a line for
all results without draws of 1 to 200 games and for all results of 30 games. What is promised is weighed twice: exactly, by
the chance of each result of 30 games, and by as many matches as `MATCHES` with a fixed seed.
"""
import os
import random
import sys
from collections import Counter
from math import factorial

from scipy.stats import norm
from statsmodels.stats.proportion import proportion_confint

# The standard deviations of the rules of counting, as the chance outside them.
ALPHA = 2 * norm.sf(1.96)
NEAR = 1e-12
GAMES, MATCHES, AT_LEAST = 30, 20000, .93
# Games in 100 that White wins, draws, loses.
WITH_DRAWS = ((40, 30, 30), (30, 40, 30), (50, 20, 30), (35, 50, 15), (25, 60, 15), (45, 10, 45))
WITHOUT = ((50, 0, 50), (60, 0, 40), (75, 0, 25), (90, 0, 10))


def load(folder):
    told = {}
    with open(os.path.join(folder, "scores.txt"), encoding="utf-8") as handle:
        for line in handle:
            won, drawn, lost, score, low, high = line.split()
            limits = None if low == "-" else (float(low), float(high))
            told[int(won), int(drawn), int(lost)] = float(score), limits
    return told


def chances(split):
    """The chance of each result of the games, by the multinomial distribution."""
    won, drawn, lost = (part / 100 for part in split)
    for wins in range(GAMES + 1):
        for draws in range(GAMES + 1 - wins):
            losses = GAMES - wins - draws
            ways = factorial(GAMES) // factorial(wins) // factorial(draws) // factorial(losses)
            yield (wins, draws, losses), ways * won ** wins * drawn ** draws * lost ** losses


def held(split, ranges):
    """How often the true score lies within, and how often in matches by chance. Where no range is given, it holds nothing."""
    true = (split[0] + split[1] / 2) / 100
    limits = {at: ranges(at) for at, chance in chances(split) if chance}
    is_within = {at: it is not None and it[0] <= true <= it[1] for at, it in limits.items()}
    exact = sum(chance for at, chance in chances(split) if chance and is_within[at])
    luck, within = random.Random(30), 0
    for _ in range(MATCHES):
        ended = Counter(luck.choices("WDL", split, k=GAMES))
        within += is_within[ended["W"], ended["D"], ended["L"]]
    return exact, within / MATCHES


def main(folder):
    told, wrong, compared, worst = load(folder), [], 0, 0
    for (won, drawn, lost), (score, limits) in told.items():
        games = won + drawn + lost
        if abs(score - (won + drawn / 2) / games) > NEAR:
            wrong.append(f"{won} {drawn} {lost}: scored {score}")
        if (limits is None) != (drawn == games):
            wrong.append(f"{won} {drawn} {lost}: {limits}")
        if not drawn:
            expected = proportion_confint(won, games, ALPHA, method="wilson")
            apart = max(abs(ours - theirs) for ours, theirs in zip(limits, expected)) if limits else 1
            compared, worst = compared + 1, max(worst, apart)
            if apart > NEAR:
                wrong.append(f"{won} of {games}: {limits}, statsmodels gives {expected}")
    print(f"{compared} ranges without draws: at most {worst:.1e} from statsmodels'")
    wilson = lambda at: proportion_confint(at[0], GAMES, ALPHA, method="wilson")
    for split in WITH_DRAWS + WITHOUT:
        for name, ranges in [("ours", lambda at: told[at][1])] + ([("Wilson's", wilson)] if split in WITHOUT else []):
            exact, seen = held(split, ranges)
            print(f"won, drawn, lost {split}: {name} holds the score in {exact:.2%}, of {MATCHES} matches in {seen:.2%}")
            if min(exact, seen) < AT_LEAST:
                wrong.append(f"{split}: {name} holds it in fewer than {AT_LEAST:.0%}")
    print("\n".join(wrong[:20]))
    print(f"{len(told)} results, {compared} compared, {len(wrong)} wrong")
    return 1 if wrong or compared != 20300 or len(told) != 20300 + 465 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
