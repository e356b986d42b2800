"""Every public formula of the calculators says its units, ranges, errors and source.

Which functions are formulas, what their arguments are and what they raise is read from their own
syntax, so that a new one, a new argument or a new error is missed by nobody.
"""

import ast
import re
from pathlib import Path

import pytest

import finishsched

SOURCE = Path(finishsched.__file__).parent
ROOMS = ("mixing", "drying", "film", "safety")
FIGURES = re.compile(r"\b(float|int)\b")
NO_ANSWERS = {"None", "bool", "str", "tuple[str, ...]", "Reason"}
"""What only judges or words a figure is no formula."""
UNIT = re.compile(
    r"(?<![\w/])(ml|m?g|mm|um|m|mm2|m2|m3|s|h|K|N|Pa|kg|degC|percent|ppm|no unit|shares?|"
    r"likelihood|flakes per litre|kJ/mol|litre of liquid|how many|any unit|same unit|times|"
    r"n-butyl)(?!\w)"
)
RANGE = re.compile(r"\d|\b(above|any|no less|infinite|after)\b")
SOURCES = re.compile(
    r"\b(19|20)\d\d\b|CFR|ISO \d|R 22|UFGS|Handbook|Crank|5th edition|textbook|texts|document|"
    r"data sheets|our assumption|common practice|from memory|by definition|exact search|balance"
)


def formulas():
    """Give each public formula: its room and name, its syntax, and that of its file."""
    for room in ROOMS:
        for path in sorted((SOURCE / room).rglob("*.py")):
            tree = ast.parse(path.read_text("utf-8"))
            for node in tree.body:
                if isinstance(node, ast.FunctionDef) and is_formula(node):
                    name = f"{path.relative_to(SOURCE).with_suffix('')}.{node.name}"
                    yield pytest.param(node, tree, id=name)


def is_formula(node):
    """Tell whether a function takes a figure and gives more than words or a verdict."""
    if node.name.startswith("_") or ast.unparse(node.returns) in NO_ANSWERS:
        return False
    return any(map(takes_figure, arguments(node)))


def arguments(node):
    """Return every argument of a function."""
    return [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]


def takes_figure(argument):
    """Tell whether an argument is a figure, or several."""
    written = ast.unparse(argument.annotation)
    return bool(FIGURES.search(written)) and "Callable" not in written


def sections(node):
    """Return what the docstring says at its head, of each argument, and of each error."""
    parts = {"": {}, "Args:": {}, "Raises:": {}}
    under, last = "", ""
    for line in (ast.get_docstring(node) or "").splitlines():
        if line in parts:
            under = line
        elif under and (entry := re.match(r"    (\w+): (.*)", line)):
            last = entry[1]
            parts[under][last] = entry[2]
        elif under and line.startswith("        "):
            parts[under][last] += " " + line.strip()
        else:
            parts[""][len(parts[""])] = line
    return " ".join(parts[""].values()), parts["Args:"], parts["Raises:"]


def raised(node, tree, seen=()):
    """Give the errors that a function raises itself, or by a function of its own file."""
    own = {each.name: each for each in tree.body if isinstance(each, ast.FunctionDef)}
    for part in ast.walk(node):
        if isinstance(part, ast.Raise) and isinstance(part.exc, ast.Call):
            yield ast.unparse(part.exc.func)
        if isinstance(part, ast.Call) and isinstance(part.func, ast.Name):
            called = part.func.id
            if called in own and called not in seen:
                yield from raised(own[called], tree, (*seen, called))


@pytest.mark.parametrize(("node", "tree"), formulas())
def test_a_formula_says_what_it_takes_gives_and_rests_on(node, tree):
    """Every argument with unit and range, what is returned, every error, and the source."""
    head, args, errors = sections(node)
    assert re.match(r"(Return|Take) ", head)
    assert list(args) == [each.arg for each in arguments(node)]
    for each in filter(takes_figure, arguments(node)):
        assert UNIT.search(args[each.arg]), f"{each.arg}: no unit"
        assert RANGE.search(args[each.arg]), f"{each.arg}: no range"
    assert set(raised(node, tree)) <= set(errors)
    source = re.search(r"Source: (.*)", head)
    assert source, "no source"
    assert SOURCES.search(source[1]), f"no source: {source[1]}"


def test_there_are_many_formulas():
    """The other half: the syntax does find them."""
    assert len(list(formulas())) > 70
