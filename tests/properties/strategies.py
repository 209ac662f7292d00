"""Entries drawn inside the catalogue's own limits, so that the limits are tested as well."""

from fractions import Fraction

from hypothesis import strategies as st

from calc.registry import get

FIELDS = {field.name: field for field in get("indexing").inputs}


def whole(name):
    return st.integers(int(FIELDS[name].low), int(FIELDS[name].high))


divisions = whole("divisions")
ratios = whole("ratio")
circles = whole("circles")
faces = st.lists(st.lists(circles, min_size=1, max_size=8, unique=True), min_size=1, max_size=3)
#: Plates as they are bought: six to eleven circles of 15 to 66 holes on a face.
usual_faces = st.lists(
    st.lists(st.integers(15, 66), min_size=2, max_size=8, unique=True), min_size=1, max_size=3
)
gears = st.lists(whole("change_gears"), max_size=8)
usual_gears = st.lists(
    st.sampled_from([24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]), min_size=2, max_size=12
)
angles = st.fractions(min_value=FIELDS["angle"].low, max_value=FIELDS["angle"].high, max_denominator=3600)
sizes = st.fractions(min_value=Fraction(1, 64), max_value=Fraction(400), max_denominator=128)
decimals = st.decimals(min_value="0.0001", max_value="9999", places=4, allow_nan=False, allow_infinity=False)
