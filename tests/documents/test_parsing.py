"""From bytes to nodes: what is refused, where, in how many words, and for how little work."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.nodes import Fields, Items, Text, places
from finishsched.documents.parsing import DEEPEST, parse

BOMB = (
    "a: &a [x, x, x, x, x, x, x, x, x]\n"
    + "".join(
        f"{b}: &{b} [{', '.join(f'*{a}' for _ in range(9))}]\n"
        for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
).encode()

REFUSED = [
    ("ten megabytes", b"a: " + b"x" * 10_000_000, (1, 1), "too-big"),
    ("50,001 values", b"[" + b"1," * 50_001 + b"]", (1, 100_000), "too-big"),
    ("100,000 lists deep", b"[" * 100_000, (1, DEEPEST + 1), "too-deep"),
    ("100,000 maps deep", b"{a: " * 100_000, (1, 4 * DEEPEST + 1), "too-deep"),
    ("100,000 dashes deep", b"- " * 100_000, (1, 2 * DEEPEST + 1), "too-deep"),
    ("an alias bomb", BOMB, (1, 4), "alias"),
    ("an alias of nothing", b"a: 1\nb: *c\n", (2, 4), "alias"),
    ("an anchored key", b"&k a: 1\n", (1, 1), "alias"),
    ("a merge", b"a: &x {b: 1}\nc:\n  <<: *x\n", (1, 4), "alias"),
    ("a NUL", b"job: a\x00b\n", (1, 7), "not-yaml"),
    ("an escape character", b"job: a\ntitle: \x1b[2J\n", (2, 8), "not-yaml"),
    ("an escape written as one", b'job: a\ntitle: "\\e[2J"\n', (2, 8), "not-yaml"),
    ("a surrogate written as an escape", b'a: "\\ud800"\n', (1, 4), "not-yaml"),
    ("a line end that editors do not count", "a: b\u2028c\n".encode(), (1, 5), "not-yaml"),
    ("an image", b"\x89PNG\r\n\x1a\n", (1, 1), "not-yaml"),
    ("Latin 1", "job: a\ntitle: caf\xe9\n".encode("latin-1"), (2, 11), "not-yaml"),
    ("UTF-16", "job: a\n".encode("utf-16"), (1, 1), "not-yaml"),
    ("nothing", b"", (1, 1), "not-yaml"),
    ("comments only", b"# nothing\n\n", (1, 1), "not-yaml"),
    ("a bare document start", b"---\n", (1, 1), "not-yaml"),
    ("two documents", b"job: a\n---\njob: b\n", (2, 1), "not-yaml"),
    ("a Python object", b"a: !!python/object/apply:os.system [ls]\n", (1, 4), "not-yaml"),
    ("a tag of its own", b"a: !foo bar\n", (1, 4), "not-yaml"),
    ("a list as a key", b"[a, b]: c\n", (1, 1), "not-yaml"),
    ("a map as a key", b"? {a: b}\n: c\n", (1, 3), "not-yaml"),
]

MISWRITTEN = [
    (b"a: 1\n\tb: 2\n", (2, 1), "a tab stands where only spaces may"),
    (b"a: b: c\n", (1, 5), "a ':' stands where no key can end"),
    (b"a: 1\n  b: 2\n", (2, 4), "a ':' stands where no key can end"),
    (b"a: [1, 2\nb: 3\n", (2, 2), "a list in [ ] is not closed or lacks a comma"),
    (b"a: {b: 1\nc: 3\n", (2, 2), "a list of keys in { } is not closed or lacks a comma"),
    (b"a: 'never closed\nb: 1\n", (1, 4), "a quote is never closed"),
    (b'a: "never closed\n', (1, 4), "a quote is never closed"),
    (b'a: "\\q"\n', (1, 6), "a backslash with 'q' says nothing in double quotes"),
    (b"a: @b\n", (1, 4), "'@' cannot begin a text"),
    (b"a: `b`\n", (1, 4), "'`' cannot begin a text"),
    (b"a: %b\n", (1, 4), "'%' cannot begin a text"),
    (b"a: **bold**\n", (1, 5), "'*' or '&' begins a reference"),
    (b"a: - b\n", (1, 4), "a '-' stands where no list can begin"),
    (b"a: 1\nb\n", (3, 1), "a line without a ':'"),
    (b"a:\n    b: 1\n  c: 2\n", (3, 3), "this does not line up with what is above it"),
    (b"a: 1\n- b\n", (2, 1), "this does not line up with what is above it"),
    (b"a: | text\n  b\n", (1, 6), "text after '|' or '>'"),
    (b"%nonsense\na: 1\n", (2, 1), "something stands after the end of the document"),
]


def only_fault(data: bytes):
    """Return the one fault that parsing ``data`` gives."""
    with pytest.raises(DocumentFaultsError) as caught:
        parse(data, "x.yaml")
    (fault,) = caught.value.faults
    return fault


@pytest.mark.parametrize(
    ("data", "place", "rule"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED]
)
def test_what_cannot_be_trusted_is_one_fault_on_one_line(data, place, rule):
    """Each hostile or mistaken file gives one short line at its exact place."""
    fault = only_fault(data)
    assert (fault.line, fault.column) == place
    assert fault.rule == rule
    assert len(str(fault).splitlines()) == 1
    assert len(str(fault)) < 200


@pytest.mark.parametrize("data", [row[1] for row in REFUSED], ids=[row[0] for row in REFUSED])
def test_what_is_refused_takes_work_by_its_length_at_most(data, calls_of):
    """No hostile file is opened out: calls stay below a thousand and a hundred for each byte."""
    assert calls_of(lambda: only_fault(data)) < 1000 + 100 * min(len(data), 200_000)


@pytest.mark.parametrize(("data", "place", "message"), MISWRITTEN)
def test_a_slip_of_syntax_is_told_in_plain_words(data, place, message):
    """The parser's own vocabulary never reaches a person, and the place is where to look."""
    fault = only_fault(data)
    assert fault.message == message
    assert (fault.line, fault.column) == place
    assert fault.remedy


def test_a_large_file_is_not_read_twice():
    """A slip late in a long file still gets its line, from the fast parser alone."""
    fault = only_fault(b"a:\n" + b"- some text\n" * 20_000 + b"b: [1\n")
    assert fault.line >= 20_002


def test_texts_stay_as_they_are_written():
    """YAML's own readings of times, octals, no and null are never applied."""
    root = parse(b"[1:30, no, 010, 1e3, ~, 2026-12-18, 'a''b']", "x")
    assert isinstance(root, Items)
    assert [item.value for item in root.items if isinstance(item, Text)] == [
        "1:30", "no", "010", "1e3", "~", "2026-12-18", "a'b",
    ]  # fmt: skip


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm():
    """Files saved by Windows editors keep their lines and columns."""
    root = parse(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n", "x")
    assert places(root)["b",] == (2, 4)
    assert places(root)["a",] == (1, 4)


def test_columns_count_characters():
    """A wide or combining character before a value counts as one."""
    root = parse("{é𝄞: 'ü', b: c}".encode(), "x")
    assert places(root)["b",] == (1, 14)


def test_a_standard_tag_changes_nothing():
    """A document written out by another program with !!str is read as if without."""
    root = parse(b"a: !!str 12\n", "x")
    assert isinstance(root, Fields)
    assert root.get("a") == Text("12", (1, 4))


def faults_of(data: bytes):
    """Return the faults that parsing ``data`` gives; anything else that is raised is not caught."""
    try:
        root = parse(data, "x")
    except DocumentFaultsError as error:
        return error.faults
    assert isinstance(root, Text | Items | Fields)
    return ()


@given(st.binary(max_size=300))
def test_arbitrary_bytes_give_nodes_or_one_fault(data):
    """No bytes at all make the parser raise anything but its own error."""
    assert len(faults_of(data)) <= 1


@given(st.text(alphabet="ab:-? [],{}'\"|>&*!%@`#\n\t\\\u00e9uU0", max_size=60))
def test_arbitrary_punctuation_gives_nodes_or_one_fault(text):
    """Text made mostly of YAML's signs finds no way round the error either."""
    assert all("\n" not in str(fault) for fault in faults_of(text.encode()))
