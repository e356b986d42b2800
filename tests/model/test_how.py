"""What the words of a step say, and what they deny."""

import pytest

from finishsched.model.how import BY_GUN, tells


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("wiped on with a cloth", False),
        ("a fine mist from the gun, never wiped", True),
        ("gravity gun, booth fan on", True),
        ("wiped on, not sprayed", False),
        ("by cloth and without any gun", False),
        ("not wiped, but misted", True),
        ("a missed place", False),
    ],
)
def test_a_gun_is_heard_where_it_is_named_and_not_where_it_is_denied(text, says):
    """Common practice: a colour that is misted is sprayed, whatever its verb."""
    assert tells(text, BY_GUN) is says
