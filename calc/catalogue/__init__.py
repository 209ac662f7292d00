"""Every calculation, in the order the pages list them."""

from calc.calculation import Calculation
from calc.catalogue.indexing import INDEXING
from calc.catalogue.indexing_schedule import INDEXING_SCHEDULE

CALCULATIONS: tuple[Calculation, ...] = (INDEXING, INDEXING_SCHEDULE)
