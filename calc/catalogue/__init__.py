"""Every calculation, in the order the pages list them."""

from calc.calculation import Calculation
from calc.catalogue.bevel_cutting import BEVEL_CUTTING
from calc.catalogue.bevel_differential import BEVEL_DIFFERENTIAL
from calc.catalogue.bevel_pair import BEVEL_PAIR
from calc.catalogue.bolt_circle import BOLT_CIRCLE
from calc.catalogue.bore_sequence import BORE_SEQUENCE
from calc.catalogue.broaching import BROACHING
from calc.catalogue.casting_allowance import CASTING_ALLOWANCE
from calc.catalogue.change_wheels import CHANGE_WHEELS
from calc.catalogue.fit import FIT
from calc.catalogue.helical_gear import HELICAL_GEAR
from calc.catalogue.inch_fit import INCH_FIT
from calc.catalogue.indexing import INDEXING
from calc.catalogue.indexing_schedule import INDEXING_SCHEDULE
from calc.catalogue.key_strength import KEY_STRENGTH
from calc.catalogue.keyway import KEYWAY
from calc.catalogue.mass import MASS
from calc.catalogue.milling_lead import MILLING_LEAD
from calc.catalogue.press_fit import PRESS_FIT
from calc.catalogue.scale import SCALE
from calc.catalogue.shop_fit import SHOP_FIT
from calc.catalogue.spindle_speed import SPINDLE_SPEED
from calc.catalogue.spur_gear import SPUR_GEAR
from calc.catalogue.taper import TAPER
from calc.catalogue.tapping_drill import TAPPING_DRILL
from calc.catalogue.thread import THREAD
from calc.catalogue.worm_pair import WORM_PAIR

#: What each job asks for; a new calculation is put on its shelf here.
JOBS: tuple[tuple[str, tuple[Calculation, ...]], ...] = (
    ("Dividing", (INDEXING, INDEXING_SCHEDULE)),
    (
        "Gears",
        (
            SPUR_GEAR,
            HELICAL_GEAR,
            MILLING_LEAD,
            BEVEL_PAIR,
            BEVEL_CUTTING,
            BEVEL_DIFFERENTIAL,
            WORM_PAIR,
        ),
    ),
    ("Keyways", (KEYWAY, BROACHING, KEY_STRENGTH)),
    ("Fits", (FIT, INCH_FIT, SHOP_FIT, PRESS_FIT)),
    ("Threads and holes", (THREAD, TAPPING_DRILL, BORE_SEQUENCE)),
    ("Machining", (TAPER, BOLT_CIRCLE, SPINDLE_SPEED, CHANGE_WHEELS)),
    ("Scale and material", (SCALE, MASS, CASTING_ALLOWANCE)),
)
CALCULATIONS: tuple[Calculation, ...] = tuple(one for _, shelf in JOBS for one in shelf)
