"""What is shown of spindle speeds: box, both sources, page."""

import pytest
from django.urls import reverse

from calc.answers.shapes import Case
from calc.answers.spindle_speed import answer
from calc.entries import read_entries
from calc.registry import get
from tests.cast import make_cast


def shown(**entered):
    calculation = get("spindle-speed")
    read = read_entries(calculation, entered)
    outcome = calculation.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return answer(Case(inputs=read.inputs, results=outcome.results, warnings=warnings, entered=entered))


def test_answer_when_a_material_is_taken_then_the_step_is_big_and_both_sources_stand_there():
    found = shown(diameter="1 1/2 in", material="mild-steel", spindle_speeds="70, 180, 300")
    assert found["over"] == "Spindle speed, 1 1/2 in, mild steel"
    assert found["big"] == "180 turns a minute"
    assert "not above 229.2" in found["under"]
    facts = {one["label"]: (one["value"], one["small"]) for one in found["facts"]}
    assert facts["At the edge, as run"] == ("71", "ft/min, 21.5 m/min")
    assert facts["The other source"] == ("70–250", "ft/min, by the operation")
    lines = {one["label"]: one["cells"] for one in found["sizes"]["lines"]}
    # 90 ft/min at 229 and 71 at 180 turns on 1 1/2 in; 250 ft/min is the most the other source has.
    assert lines["Wanted"] == ["90", "27.4", "229"]
    assert lines["As run"] == ["71", "21.5", "180"]
    assert lines["The other source, highest"] == ["250", "76.2", ""]
    assert "110 for drilling" in found["beware"][0]["text"]


def test_answer_when_the_machine_has_no_steps_then_the_turns_and_the_time():
    found = shown(diameter="3/8 in", cutting_speed="80 ft/min", length="1 in", feed="0.004 in")
    assert found["big"] == "815 turns a minute"
    # 250 turns at 814.87 a minute.
    assert {"label": "One cut", "value": "0.31", "small": "minutes"} in found["facts"]
    assert found["beware"] == []


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("typed", "said"),
    [({"diameter": "1.5 in", "cutting_speed": "90 ft/min"}, "229 turns a minute"),
     ({"diameter": "1.5 in", "cutting_speed": "90"}, "has no unit"),
     ({"diameter": "1.5 in", "cutting_speed": "90 ft/min", "spindle_speeds": "300"},
      "Every speed of the machine")],
    ids=["worked", "bare", "all above"],
)  # fmt: skip
def test_page_when_sent_then_the_answer_or_the_reason_is_on_it(typed, said):
    page = make_cast().client("owner").get(reverse("calculate", args=["spindle-speed"]), typed)
    assert said in page.text
    assert 'value="1.5 in"' in page.text
