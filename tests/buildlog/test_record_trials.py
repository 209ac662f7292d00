"""What trial cuts by a kept plan measured, beside the plan; the plan itself stays as it was kept.

That a tooth which comes 0.006 thick at its small end is written beside the plan, and new settings kept
beside the old: what a builder asks of such a record; 0.006 in is added to the plan's own figure by hand.
"""

from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.parts import bin_part
from calc import records, registry, trials
from calc.models import CalculationRecord, TrialCut
from tests.factories import make_build, make_part, make_plan, make_record
from tests.pages import words

pytestmark = pytest.mark.django_db

INCH = 25.4


@pytest.fixture
def part(build):
    return make_part(build, number="S-040", name="Differential wheel 36 T")


@pytest.fixture
def plan(cast, part):
    return make_plan(part, user=cast.owner)


def page_of(record):
    return reverse("record_trial", args=[record.pk])


def send(client, record, **said):
    return client.post(page_of(record), {"small": "", "large": "", "note": "", "token": str(uuid4())} | said)


def thick(record, end, by):
    """The plan's figure in inches and so much more, as a builder types it."""
    return f"{record.results['best'][f'tooth_{end}_mm'] / INCH + by:.4f}"


def test_trial_when_the_small_end_is_thick_then_kept_beside_the_plan_which_stays(site, cast, plan):
    before = CalculationRecord.objects.values().get(pk=plan.pk)
    answer = send(site, plan, small=thick(plan, "small", 0.006), note="Left flank proud.")
    assert answer["Location"] == plan.get_absolute_url()
    trial = plan.trials.get()
    assert (trial.number, trial.made_by, trial.large_mm) == (1, cast.owner, None)
    shown = words(site.get(plan.get_absolute_url()))
    assert "0.0060 thick" in shown
    assert "Left flank proud." in shown
    assert CalculationRecord.objects.values().get(pk=plan.pk) == before


def test_trial_when_a_second_is_cut_then_both_stand_in_their_order(site, plan):
    send(site, plan, small=thick(plan, "small", 0.006), large=thick(plan, "large", -0.002))
    send(site, plan, small=thick(plan, "small", 0), large=thick(plan, "large", 0))
    first, second = trials.lines_of(plan)
    assert [one.off for one in first.readings] == ["0.0060 thick", "0.0020 thin"]
    assert (second.trial.number, [one.off for one in second.readings]) == (2, ["as wanted", "as wanted"])


def test_trial_when_a_unit_is_typed_then_read_in_that(site, plan):
    mm = plan.results["best"]["tooth_small_mm"] + 0.254
    send(site, plan, small=f"{mm:.4f} mm")
    assert trials.lines_of(plan)[0].readings[0].off == "0.0100 thick"


def test_trial_when_sent_twice_then_written_once(site, plan):
    token = str(uuid4())
    for _ in range(2):
        assert send(site, plan, small="0.130", token=token).status_code == 302
    assert plan.trials.count() == 1


def test_trial_when_the_token_is_of_another_plan_then_nothing_is_found(site, cast, plan, part):
    other, token = make_plan(part, user=cast.owner), str(uuid4())
    send(site, plan, small="0.130", token=token)
    assert send(site, other, small="0.130", token=token).status_code == 404
    assert not other.trials.exists()


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ({}, "at least one end"),
        ({"small": "3.3"}, "Small end: A tooth is more than nothing and at most 2 times the plan"),
        ({"large": "0"}, "Large end: A tooth is more than nothing"),
        ({"small": "thick"}, "Small end:"),
    ],
)
def test_trial_when_entered_wrong_then_said_which_and_nothing_typed_is_lost(site, plan, said, message):
    answer = send(site, plan, note="Look again.", **said)
    assert answer.status_code == 422
    assert message in words(answer)
    assert "Look again." in answer.content.decode()
    for text in said.values():
        assert f'value="{text}"' in answer.content.decode()
    assert not TrialCut.objects.exists()


def test_trial_when_settings_were_tried_and_kept_then_wanted_is_of_those(plan):
    plan.results = plan.results | {"given": plan.results["best"] | {"tooth_small_mm": 2.54}}
    assert trials.wanted_text(plan, "small") == "0.1000 in"


def test_trial_when_the_sum_has_no_teeth_to_try_or_its_part_is_in_the_bin_then_nothing_is_found(
    site, cast, plan, part
):
    assert site.get(page_of(make_record(part, user=cast.owner))).status_code == 404
    bin_part(part, by=cast.owner)
    assert send(site, plan, small="0.130").status_code == 404
    assert page_of(plan) not in site.get(plan.get_absolute_url()).content.decode()


def test_trial_when_of_a_strangers_build_then_nothing_is_found(site):
    plan = make_plan(make_part(make_build(), number="S-041"))
    assert send(site, plan, small="0.130").status_code == 404
    assert not TrialCut.objects.exists()


def test_new_settings_when_kept_after_a_trial_then_they_stand_beside_the_old(site, cast, plan, part):
    send(site, plan, small=thick(plan, "small", 0.006))
    entered = plan.entered | {"try_set_over": "0.0680 in"}
    run = records.run(registry.get("bevel-cutting"), entered)
    new = records.keep(run, part=part, user=cast.owner, token=uuid4(), at=clock.now())
    assert new.replaces == plan
    assert new.results["given"]["set_over_mm"] == pytest.approx(0.068 * INCH)
    assert not new.trials.exists()
    assert plan.trials.count() == 1
    assert f"sum {new.pk}" in words(site.get(plan.get_absolute_url()))
