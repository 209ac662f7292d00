"""Every calculation, in the order the pages list them."""

from calc.calculation import Calculation
from calc.catalogue.bore_sequence import BORE_SEQUENCE
from calc.catalogue.fit import FIT
from calc.catalogue.indexing import INDEXING
from calc.catalogue.indexing_schedule import INDEXING_SCHEDULE
from calc.catalogue.keyway import KEYWAY
from calc.catalogue.spur_gear import SPUR_GEAR
from calc.catalogue.tapping_drill import TAPPING_DRILL
from calc.catalogue.thread import THREAD

#: What each job asks for; a new calculation is put on its shelf here.
JOBS: tuple[tuple[str, tuple[Calculation, ...]], ...] = (
    ("Dividing", (INDEXING, INDEXING_SCHEDULE)),
    ("Gears", (SPUR_GEAR,)),
    ("Keyways", (KEYWAY,)),
    ("Fits", (FIT,)),
    ("Threads and holes", (THREAD, TAPPING_DRILL, BORE_SEQUENCE)),
)
CALCULATIONS: tuple[Calculation, ...] = tuple(one for _, shelf in JOBS for one in shelf)
