"""Every name that is public serves somebody: read from the syntax of the whole source."""

import ast
from collections import defaultdict
from dataclasses import dataclass, field
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


@dataclass
class Names:
    """What the files below a folder name; their syntax, a million things, is not kept."""

    public: list[tuple[Path, str, bool]] = field(default_factory=list)
    """Each file, the name that is public at its top, and whether that is a function."""
    reads: defaultdict[str, set[Path]] = field(default_factory=lambda: defaultdict(set))
    """By name the files in which it is read, imported, or written as a word by itself."""


@cache
def names(folder):
    """Return what every file below a folder names, each parsed once."""
    found = Names()
    for path in sorted(folder.rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        found.public += [(path, *each) for each in public(tree)]
        for name in read_in(tree):
            found.reads[name].add(path)
    return found


def public(tree):
    """Give each name that is public at the top of a file, and whether it is a function."""
    for node in tree.body:
        for name in named(node):
            if not name.startswith("_"):
                yield name, isinstance(node, ast.FunctionDef)


def named(node):
    """Return the names that a statement gives at the top of a file."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return [node.name]
    targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
    parts = [part for t in targets for part in (t.elts if isinstance(t, ast.Tuple) else [t])]
    return [part.id for part in parts if isinstance(part, ast.Name)]


def read_in(tree):
    """Give each name that is read or imported in a file, and each word written by itself."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.ImportFrom):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def test_no_name_is_there_for_nothing():
    """Every public name is read somewhere in the source, or is listed here with its reason."""
    source = names(SOURCE)
    unread = {name for _, name, _ in source.public if not source.reads[name]}
    assert unread == set(SERVING_NO_SOURCE)


def test_a_public_function_serves_another_file():
    """One that serves its own file only, and no test, is private."""
    source, tests = names(SOURCE), names(TESTS)
    lonely = [
        f"{path.relative_to(SOURCE)}: {name}"
        for path, name, is_function in source.public
        if is_function and not source.reads[name] - {path} and not tests.reads[name]
    ]
    assert lonely == []
