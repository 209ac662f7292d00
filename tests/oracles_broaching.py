"""Shims behind a broach, by trying every stack."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations


def fewest_passes(
    depth: Fraction, most: Fraction, rise: Fraction, shims: Sequence[Fraction]
) -> tuple[int, Fraction] | None:
    """How many passes, and the last stack: every stack of owned shims tried, step by step."""
    if depth <= rise:
        return 1, Fraction(0)
    counts = range(len(shims) + 1)
    stacks = {sum(pieces, Fraction()) for count in counts for pieces in combinations(shims, count)}
    reaching = sorted(stack for stack in stacks if stack + rise >= depth)
    if not reaching:
        return None
    last = reaching[0]
    if last + rise > most:
        last = max(stack for stack in stacks if stack + rise < depth)
        if last + 2 * rise <= depth:
            return None
    reached, passes = {Fraction(0)}, 1
    while last and last not in reached:
        further = reached | {
            stack for stack in stacks if any(one < stack <= one + rise for one in reached) and stack <= last
        }
        if further == reached:
            return None
        reached, passes = further, passes + 1
    return (passes, last) if last else None
