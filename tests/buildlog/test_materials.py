"""What a part is made of: the hatch its words call for.

Which word means which metal: common practice, no source.
"""

import pytest

from buildlog.materials import HATCHES, hatch_name, hatch_of
from tests.factories import make_part


@pytest.mark.parametrize(
    ("written", "hatch"),
    [
        ("cast iron", "ci"),
        ("Cast-iron, chilled face", "ci"),
        ("SG iron", "ci"),
        ("malleable iron", "ci"),
        ("wrought iron", "st"),
        ("bright mild steel", "st"),
        ("BMS", "st"),
        ("EN8", "st"),
        ("steel, case-hardened", "st"),
        ("stainless steel", "st"),
        ("gunmetal", "gm"),
        ("Phosphor bronze PB102", "gm"),
        ("brass tube", "gm"),
        ("copper", "cu"),
        ("white metal", "wm"),
        ("steel shell, white-metalled", "st"),
        ("oak", "nm"),
        ("leather", "nm"),
        ("graphite yarn", "nm"),
    ],
)
def test_hatch_when_the_trade_word_stands_in_the_text_then_its_own(written, hatch):
    assert hatch_of(written) == hatch


@pytest.mark.parametrize(
    "written", ["", "   ", "see sheet 4", "forms", "washers", "cloak", "Ξάνθη", "\u202eleets"]
)
def test_hatch_when_no_material_is_named_then_none(written):
    # A material's word inside another word is not that material: ash in washers, oak in cloak, ms in forms.
    assert hatch_of(written) == ""


def test_hatches_then_each_has_a_name_of_its_own():
    codes = [code for code, *_ in HATCHES]
    assert len({hatch_name(code) for code in codes}) == len(codes) == len(set(codes))
    assert hatch_name("none of ours") == ""


@pytest.mark.django_db
def test_part_when_its_material_changes_then_its_hatch_follows():
    part = make_part(material="cast iron")
    assert part.hatch == "ci"
    part.material = "gunmetal"
    part.save()
    part.refresh_from_db()
    assert part.hatch == "gm"
