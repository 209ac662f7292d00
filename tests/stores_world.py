"""One of everything that an address of the stores can name, for the tables in `tests.doors`."""

from typing import Any

from buildlog import clock
from buildlog.actions import stores
from buildlog.models import Build
from tests.factories import make_casting, make_casting_part, make_delivery, make_order


def stores_world(build: Build) -> dict[str, Any]:
    """A casting with claimant, order and delivery, on which every act of the stores can be done once."""
    casting = make_casting(build, number="K-990", name="Trial bracket")
    claimant = make_casting_part(casting, number="X-990", castings_each=9)
    stores.receive(build, {(casting, None): 20}, on=clock.today(), by=None)
    stores.judge(casting, None, accepted=20, rejected=0, reason="", on=clock.today(), by=None)
    order = make_order((casting, 40), number="O-990")
    line = order.lines.get()
    make_delivery(line, 2, good=-1)
    make_casting(build, number="S-099", name="Asked for besides")
    return {
        "casting": casting,
        "claimant": claimant,
        "order": order,
        "order_line": line,
        "supplier": order.supplier,
        "stores_event": line.events.get(kind="received"),
        "spare": make_casting(build, number="K-991", name="Named by nothing"),
    }


#: What the acts of the stores ask for, besides what others ask for too.
STORES_SAID = {
    "way": "none",
    "reason": "hard",
    "words": "",
    "said": "in the next heat",
    "why": "pattern lost",
}
