"""What the rules say of themselves: the page that is kept, the list, one rule in full."""

from __future__ import annotations

from importlib import resources

import pytest

from finishsched.checking.manual import explained, listed, page
from finishsched.checking.registry import RULES


def test_the_page_is_what_the_rules_make():
    """Run python -m finishsched.checking > finishsched/checking/rules.md after a change."""
    kept = (resources.files("finishsched") / "checking" / "rules.md").read_text("utf-8")
    assert kept == page()


def test_the_page_and_the_list_name_every_rule():
    """Nobody has to look into the source for a code."""
    lines = "\n".join(listed())
    for code, rule in RULES.items():
        assert f"\n### {code}\n" in page()
        assert f"  {code} " in lines
        assert rule.title in lines


@pytest.mark.parametrize("code", RULES)
def test_the_page_shows_the_failing_and_the_passing_document(code):
    """Both sides of the example that the tests judge stand under the rule's heading."""
    section = page().split(f"\n### {code}\n")[1].split("\n### ")[0].split("\n## ")[0]
    example = RULES[code].example
    wrong, right = (f"```yaml\n{side.rstrip()}\n```" for side in (example.wrong, example.right))
    assert 0 < section.index(wrong) < section.index(right)


@pytest.mark.parametrize("code", RULES)
def test_a_rule_explained_has_both_sides(code):
    """Why, what to do, what is told of, what is not, and the source, each on lines of its own."""
    rule, lines = RULES[code], list(explained(RULES[code]))
    text = "\n".join(lines)
    assert lines[0].startswith(f"{code}: {rule.title}")
    for part in ("why", "do", "from"):
        assert any(line.startswith(f"  {part} ") for line in lines), part
    for side in (rule.example.wrong, rule.example.right):
        assert all(f"      {line}" in text for line in side.splitlines())


def test_lines_of_examples_are_not_folded():
    """A hundred columns hold every line of an example, so that it can be copied as it stands."""
    for rule in RULES.values():
        for line in explained(rule):
            if line.startswith("      "):
                assert len(line) <= 100, (rule.code, line)
