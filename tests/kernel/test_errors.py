"""What a refusal says: the limit, and then the reason."""

import pytest

from calc.kernel.errors import OutOfRange


@pytest.mark.parametrize(
    ("reason", "said"),
    [
        ("Clear one of the two.", "not both. Clear one of the two."),
        ("these make 12 turns.", "not both: these make 12 turns."),
        ("75 % would need a hole below the core.", "not both: 75 % would need a hole below the core."),
    ],
)
def test_refusal_when_the_reason_is_a_sentence_then_it_follows_a_full_stop(reason, said):
    assert str(OutOfRange("module", "not both", reason)) == said
