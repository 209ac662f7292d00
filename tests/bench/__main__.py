"""Prints how fast it is, as ratios measured in one run: `python -m tests.bench [rounds]`.

It makes a data folder of its own, and takes it away again.
"""

import os
import platform
import sys
import tempfile
from typing import Any

ROUNDS = 15
SIZES = ("420", "4,200")


def main(rounds: int) -> None:
    with tempfile.TemporaryDirectory(prefix="hornplate-bench-", ignore_cleanup_errors=True) as folder:
        start(folder)
        from tests.bench import builds, pages, records, sums

        owner, small, large = builds.engines()
        engines = dict(zip(SIZES, (small, large), strict=True))
        print(f"Python {platform.python_version()}, {os.cpu_count()} processors; medians of {rounds} rounds,")
        print("in each of which everything has its turn. Pages: real settings, the site's own server in a")
        print("thread, one open connection, from the request to the last byte; both engines in one database.")
        print_pages(
            {size: engine.parts for size, engine in engines.items()}, pages.measure(owner, engines, rounds)
        )
        print_cards(sums.cards(small.card.sheet, rounds))
        print_indexings(sums.indexings(rounds), sum(map(len, sums.FACES)), len(sums.FACES))
        print_sums(sums.every(rounds), *sums.worst_indexing())
        print_imports(sums.imports(rounds))
        # Last, so that its rows weigh on nothing else.
        records.measure(rounds)


def start(folder: str, *, database: str = "") -> None:
    """Django with the real settings and a fresh database: in the folder, unless its address is given."""
    os.environ["HORNPLATE_DATA"] = folder
    os.environ["DJANGO_SETTINGS_MODULE"] = "buildlog.settings"
    for name in ("DATABASE_URL", "HORNPLATE_ADDRESS", "HORNPLATE_DEBUG"):
        os.environ.pop(name, None)
    if database:
        os.environ["DATABASE_URL"] = database
    import django

    django.setup()
    from buildlog import serving

    serving.migrate_when_needed()
    serving.collect_static_when_changed()


def print_pages(parts: dict[str, int], found: dict[str, dict[str, float]]) -> None:
    bare, *rest = found
    base = found[bare][""]
    heads = [f"{parts[size]:,} parts" for size in SIZES]
    print(f"\nA page's time over that of the {bare} ({base * 1000:.1f} ms)\n")
    print(row("page", *heads, *(f"ms, {size}" for size in SIZES)))
    for name in rest:
        each = [found[name][size] for size in SIZES]
        print(row(name, *(f"{one / base:.1f}" for one in each), *(f"{one * 1000:.1f}" for one in each)))


def print_cards(found: dict[str, float]) -> None:
    base = found["bare page"]
    print(f"\nCards of 84 teeth, over a bare one-page PDF of the same library ({1 / base:,.0f} a second)\n")
    print(row("paper", "times", "a second"))
    for name in ("A4", "A5"):
        print(row(name, f"{found[name] / base:.1f}", f"{1 / found[name]:,.0f}"))


def print_indexings(found: dict[str, float], circles: int, faces: int) -> None:
    print(f"\n`indexing` on a head of 40 to 1 with {circles} circles on {faces} faces\n")
    print(row("asked", "microseconds"))
    for name, seconds in found.items():
        print(row(name, f"{seconds * 1e6:,.0f}"))


def print_sums(found: dict[str, float], worst: int, seconds: float) -> None:
    """One line to a sum: how many times the loop, in milliseconds, and what it aims at."""
    from tests.bench.sums import AIM_INDEXING_MS, AIM_MS, WORST_INDEXING_MS

    loop, *rest = found
    print(f"\nEvery sum, its own example, over {loop} ({found[loop] * 1000:.2f} ms)\n")
    print(row("sum", "times", "ms", "aim, ms"))
    found[f"indexing, gears, worst is {worst}"] = seconds
    aims = {"indexing": AIM_INDEXING_MS, f"indexing, gears, worst is {worst}": WORST_INDEXING_MS}
    for name in (*rest, f"indexing, gears, worst is {worst}"):
        aim, took = aims.get(name, AIM_MS), found[name] * 1000
        mark = "" if took <= aim else "   over"
        print(row(name, f"{found[name] / found[loop]:.1f}", f"{took:.2f}", str(aim)) + mark)


def print_imports(found: dict[str, float]) -> None:
    from tests.bench.sums import AIM_IMPORT

    base, *rest = found
    print(f"\nImports in a fresh process, over that of {base} ({found[base] * 1000:.1f} ms)\n")
    print(row("import", "times", "ms", "aim, times"))
    for name in rest:
        cells = f"{found[name] / found[base]:.1f}", f"{found[name] * 1000:.1f}", str(AIM_IMPORT)
        print(row(name, *cells))


def row(name: str, *cells: Any) -> str:
    return f"{name:<30}" + "".join(f"{cell:>14}" for cell in cells)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS)
