"""Faults as people and programs see them."""

from __future__ import annotations

import subprocess
import sys

from finishsched.documents.faults import DocumentFaultsError, Fault


def test_a_fault_is_one_line_with_place_message_and_remedy():
    """The line has the shape that editors and compilers have long agreed on."""
    fault = Fault("a.yaml", 3, 7, "'2' has no unit", "write 2 lb", "no-unit")
    assert str(fault) == "a.yaml:3:7: '2' has no unit; write 2 lb"
    assert fault.severity == "error"


def test_faults_come_in_reading_order_and_once():
    """Line 10 comes after line 9, and the same fault is not told twice."""
    late, early = (Fault("a", line, 1, "m", "r", "bad-value") for line in (10, 9))
    assert DocumentFaultsError([late, early, late]).faults == (early, late)


def test_faults_are_light():
    """A command can name faults without paying for YAML or units."""
    code = (
        "import sys, finishsched.documents.faults;"
        "print({'yaml', 'pint', 'difflib', 'numpy'} & set(sys.modules))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "set()"
