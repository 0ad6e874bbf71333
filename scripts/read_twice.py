"""Judges random subjects twice, by the core and by the naive second reading: raceways, pull boxes, conduit bodies,
wireways and circuits.

    python scripts/read_twice.py SEED NUMBER                     so many of each kind
    python scripts/read_twice.py SEED NUMBER --of pull-boxes     of one kind alone

Half of them have unknown facts, but no circuit has. What the two disagree on is printed with its sheet. Exit status 1
if there was any.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.two_readings import OF, disagreement

SHOWN = 3


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("seed")
    parser.add_argument("number", type=int)
    parser.add_argument("--of", choices=tuple(OF))
    asked = parser.parse_args()
    disagreements = 0
    for of in [asked.of] if asked.of else OF:
        began, verdicts = time.process_time(), Counter[str]()
        for number in range(asked.number):
            seed, unknowns = f"{asked.seed} {of} {number}", number % 2 == 1 and of != "circuits"
            told, verdict = disagreement(seed, of=of, unknowns=unknowns)
            verdicts[f"{'with' if unknowns else 'without'} unknown facts, core / naive: {verdict}"] += 1
            if told:
                disagreements += 1
                if disagreements <= SHOWN:
                    print(f"---- {seed}\n{told}\n")
        print(f"{asked.number} {of}, {time.process_time() - began:.0f} s of processor time")
        for verdict, many in sorted(verdicts.items()):
            print(f"  {verdict}: {many}")
    print(f"{disagreements} disagreements")
    return 1 if disagreements else 0


if __name__ == "__main__":
    raise SystemExit(main())
