"""What a part is made of: the words a builder writes, and the hatch that stands for them."""

import re

#: hatch, its name in the legend, and the words that call for it, in the order they are tried.
HATCHES: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("wm", "White metal", ("white metal", "whitemetal", "babbitt")),
    (
        "ci",
        "Cast iron",
        ("cast iron", "cast-iron", "castiron", "sg iron", "malleable iron", "grey iron", "iron casting"),
    ),
    (
        "gm",
        "Gunmetal, bronze",
        ("gunmetal", "gun metal", "bronze", "brass", "lg2", "pb102", "cz121", "colphos"),
    ),
    ("cu", "Copper", ("copper",)),
    (
        "nm",
        "Packing, timber, other",
        (
            "leather",
            "oak",
            "ash",
            "timber",
            "wood",
            "cork",
            "felt",
            "yarn",
            "graphite",
            "rubber",
            "glass",
            "ptfe",
            "packing",
            "gasket",
            "fibre",
            "lagging",
            "paper",
            "nylon",
            "plastic",
            "canvas",
        ),
    ),
    (
        "st",
        "Steel",
        ("steel", "silver steel", "bms", "bright bar", "en1a", "en3b", "en8", "en16", "en24", "iron", "ms"),
    ),
)
_NAMES = {hatch: name for hatch, name, _ in HATCHES}


def hatch_of(material: str) -> str:
    """The hatch for a material as written; empty where the words name none of ours."""
    words = " ".join(re.findall(r"[a-z0-9\-]+", material.casefold()))
    for hatch, _, names in HATCHES:
        if any(re.search(rf"\b{re.escape(name)}\b", words) for name in names):
            return hatch
    return ""


def hatch_name(hatch: str) -> str:
    """The words of the legend for a hatch."""
    return _NAMES.get(hatch, "")
