"""What the mixing commands load."""

import json
import subprocess
import sys

import pytest

HEAVY = {"textual", "rich", "numpy", "jinja2", "ortools", "yaml", "sqlite3", "dateutil"}
RUN = """
import json, sys
from finishsched.cli.run import run
status = run(sys.argv[1:])
print(json.dumps({"status": int(status), "modules": sorted(sys.modules)}))
"""


@pytest.mark.parametrize(
    "arguments",
    [
        ["blend", "--have", "2 lb: 1 l", "--to", "1 lb", "--makes", "1 l"],
        ["gauge", "--wet", "20 g", "--dry", "4 g"],
        ["parts", "--thin", "25 %", "--makes", "1 l"],
        ["reduce", "--from", "2 lb", "--have", "5 ml", "--add", "2 ml"],
    ],
)
def test_a_calculator_without_a_shop_stays_light(arguments, tmp_path):
    """In a clean interpreter no screen, no database and no documents are loaded."""
    ran = subprocess.run(
        [sys.executable, "-c", RUN, *arguments],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    last = json.loads(ran.stdout.splitlines()[-1])
    assert last["status"] == 0, ran.stderr
    assert not {name.partition(".")[0] for name in last["modules"]} & HEAVY
