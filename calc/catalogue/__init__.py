"""Every calculation, in the order the pages list them."""

from calc.catalogue.indexing import INDEXING
from calc.catalogue.indexing_schedule import INDEXING_SCHEDULE
from calc.registry import Calculation

CALCULATIONS: tuple[Calculation, ...] = (INDEXING, INDEXING_SCHEDULE)
