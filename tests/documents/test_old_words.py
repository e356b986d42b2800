"""Keys of steps by their old names: read as before, told of, and left as they stand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from finishsched.documents.decode import dump, read
from finishsched.documents.editing.edit import edited
from finishsched.documents.faults import DocumentFaultsError

OLD = """\
schedule: mine
title: Mine
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        id: first
        product: shellac-garnet
        cut: 1 lb
        with: linen over wool  # the old one
"""
NEW = OLD.replace("id:", "mark:").replace("with:", "tool:")


def test_old_words_mean_what_the_new_ones_do():
    """One model, whichever words it was written in; what is written anew has the words of today."""
    old, new = read(OLD.encode(), "mine.yaml"), read(NEW.encode(), "mine.yaml")
    assert old.model == new.model
    assert "mark: first" in dump(old.model)
    assert "tool: linen over wool" in dump(old.model)


def test_old_words_are_told_of_once_each_where_they_stand():
    """Advice with the line and the new word; a document in the words of today has none."""
    again = OLD.partition("steps:\n")[2].replace("first", "second")
    found = read((OLD + again).encode(), "mine.yaml")
    assert [(one.line, one.column, one.rule, one.severity) for one in found.notices] == [
        (8, 9, "old-word", "advice"),
        (11, 9, "old-word", "advice"),
    ]
    assert "'mark:'" in found.notices[0].remedy
    assert read(NEW.encode(), "mine.yaml").notices == ()


def test_both_words_in_one_step_are_one_key_twice():
    """Which of the two would count is not guessed."""
    both = NEW + "        with: a brush\n"
    with pytest.raises(DocumentFaultsError, match="written twice"):
        read(both.encode(), "mine.yaml")


def test_a_text_in_old_words_stays_in_them():
    """A change of the title touches no other line, and its comment is kept."""
    model = replace(read(OLD.encode(), "mine.yaml").model, title="Other")
    assert edited(OLD, "mine.yaml", model) == OLD.replace("title: Mine", "title: Other")
