"""Every name that is public serves somebody: read from the syntax of the whole source."""

import ast
from collections import defaultdict
from functools import cache
from pathlib import Path

import finishsched

SOURCE = Path(finishsched.__file__).parent
TESTS = Path(__file__).parents[1]
HELD_BY_TABLES = {
    "ethanol_pa": "published vapour pressures hold it, and with it how a film cools",
    "relative_rate": "published evaporation rates hold it, and with it the vapour pressures",
    "sanding_takes": "a step rule in print holds it, and with it the shares of the grain",
    "mg_per_m3_to_ppm": "limits printed in both units hold it, and with it the molar volume",
    "DEEPEST_SCRATCH_SHARE": "a page of the handbook says it",
    "SAFE_SHARE": "a page of the handbook says it",
    "one_course": "the table of odds in tests/speed counts how often they come true",
}
FOR_ONE_PIECE = {
    "log_entry": "an entry about one piece, for who uses the workshop from a program",
    "bench_sheet": "the sheet of one piece, for who uses the workshop from a program",
    "cautions_today": "the cautions of one piece, for who uses the workshop from a program",
    "timeline": "the coming days, for who uses the workshop from a program",
    "take_rework": "a rework of one piece, for who uses the workshop from a program",
    "product_text": "a shipped product as it is written",
}
SERVING_NO_SOURCE = HELD_BY_TABLES | FOR_ONE_PIECE


@cache
def trees(folder):
    """Return the syntax of every file below a folder."""
    return {path: ast.parse(path.read_text("utf-8")) for path in sorted(folder.rglob("*.py"))}


def named(node):
    """Return the names that a statement gives at the top of a file."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return [node.name]
    targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
    parts = [part for t in targets for part in (t.elts if isinstance(t, ast.Tuple) else [t])]
    return [part.id for part in parts if isinstance(part, ast.Name)]


def public():
    """Give each file, statement and name that is public at the top of a file."""
    for path, tree in trees(SOURCE).items():
        for node in tree.body:
            for name in named(node):
                if not name.startswith("_"):
                    yield path, node, name


@cache
def reads(folder):
    """Return by name the files in which it is read, imported, or written as a word by itself."""
    found = defaultdict(set)
    for path, tree in trees(folder).items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
                found[node.id].add(path)
            elif isinstance(node, ast.Attribute):
                found[node.attr].add(path)
            elif isinstance(node, ast.ImportFrom):
                for alias in node.names:
                    found[alias.name].add(path)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                found[node.value].add(path)
    return found


def test_no_name_is_there_for_nothing():
    """Every public name is read somewhere in the source, or is listed here with its reason."""
    unread = {name for _, _, name in public() if not reads(SOURCE)[name]}
    assert unread == set(SERVING_NO_SOURCE)


def test_a_public_function_serves_another_file():
    """One that serves its own file only, and no test, is private."""
    lonely = [
        f"{path.relative_to(SOURCE)}: {name}"
        for path, node, name in public()
        if isinstance(node, ast.FunctionDef)
        and not reads(SOURCE)[name] - {path}
        and not reads(TESTS)[name]
    ]
    assert lonely == []
