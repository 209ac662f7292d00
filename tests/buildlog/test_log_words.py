"""How the log reads and says days and hours."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buildlog.log_words import ago, day_said, minutes_said, read_minutes

TODAY = date(2025, 11, 20)


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("90", 90),
        ("90 min", 90),
        ("90m", 90),
        ("2 h 20", 140),
        ("2h20", 140),
        ("2 h 20 min", 140),
        ("2:20", 140),
        ("2 hours", 120),
        ("1 hour 5 minutes", 65),
        ("1.5 h", 90),
        ("1 1/2 h", 90),
        ("1/2 h", 30),
        (" 2  H  20 ", 140),
        ("1", 1),
        ("24 h", 1440),
        ("1440", 1440),
    ],
)
def test_minutes_when_typed_then_read(typed, minutes):
    assert read_minutes(typed) == minutes


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("0", "from 1 to 1440 minutes"),
        ("0 h", "from 1 to 1440 minutes"),
        ("1/0 h", "from 1 to 1440 minutes"),
        ("1441", "more than a day, which has 1440 minutes"),
        ("24 h 1", "more than a day, which has 1440 minutes"),
        ("999999", "more than a day, which has 1440 minutes"),
        ("-5", "is no time"),
        ("an evening", "is no time"),
        ("2:75", "is no time"),
        ("½ h", "is no time"),
        ("٣", "is no time"),
        ("1e3", "is no time"),
        ("2,5 h", "is no time"),
    ],
)
def test_minutes_when_no_time_of_a_day_then_refused_with_how_to_write_one(typed, why):
    with pytest.raises(ValueError, match=why) as refused:
        read_minutes(typed)
    assert "2 h 20" in str(refused.value)


@given(st.integers(1, 1440))
def test_minutes_when_said_then_read_back(minutes):
    assert read_minutes(minutes_said(minutes)) == minutes


@given(st.text(max_size=30))
def test_minutes_when_anything_is_typed_then_minutes_of_a_day_or_refused(text):
    try:
        assert 1 <= read_minutes(text) <= 1440
    except ValueError as refused:
        assert "90" in str(refused)  # noqa: PT017  Either end is right.


@pytest.mark.parametrize(
    ("minutes", "said"), [(None, ""), (40, "40 min"), (120, "2 h"), (140, "2 h 20 min"), (60_000, "1,000 h")]
)
def test_minutes_when_said_then_in_hours_and_minutes(minutes, said):
    assert minutes_said(minutes) == said


@pytest.mark.parametrize(
    ("days", "said"),
    [(0, "Today"), (1, "Yesterday"), (2, "2 days ago"), (254, "254 days ago"), (1500, "1,500 days ago")],
)
def test_ago_then_as_it_is_spoken(days, said):
    assert ago(TODAY - timedelta(days=days), TODAY) == said


def test_day_when_of_this_year_then_without_it_and_else_with_it():
    assert day_said(date(2025, 3, 11), TODAY) == "Tuesday 11 March"
    assert day_said(date(2024, 3, 11), TODAY) == "Monday 11 March 2024"
