"""``settings``: what a person likes, where each of it comes from, and setting one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, json_option, world
from finishsched.cli.faults import CommandError

if TYPE_CHECKING:
    from finishsched.model.settings import Settings

_NEW = "# What you like on the bench, wherever you work.\nsettings: bench\n"


@click.command("settings")
@click.argument("key", required=False)
@click.argument("value", required=False)
@click.option("--out", is_flag=True, help="Take a setting out: what is usual holds again.")
@json_option
def command(key: str | None, value: str | None, out: bool, as_json: bool) -> None:
    """Show each setting and where it comes from, or set KEY to VALUE.

    They are yours and no part of a shop. 'quiet' takes two times: '22:00 to 7:00'; a key of the
    bench is keys.NAME.
    """
    file = world().settings_file()
    if key is not None:
        if value is None and not out:
            raise CommandError(f"VALUE is missing; write what {key} is to be, or --out for none")
        _set(file, key, None if out else value)
    from finishsched.documents.user_settings import read_settings

    found = read_settings(file)
    rows = list(_rows(found, file))
    answer(
        as_json,
        lambda: {
            "file": str(file),
            "settings": [
                {"key": key, "value": value, "from": source} for key, value, source, _ in rows
            ],
        },
        lambda: _lines(rows, file),
    )


def setting_faults(file: Path) -> tuple[str, ...]:
    """Return every fault in the settings, for every command to tell; none where all is well."""
    if not file.is_file():
        return ()
    from finishsched.bench.keys import faults
    from finishsched.documents.faults import DocumentFaultsError
    from finishsched.documents.user_settings import read_settings
    from finishsched.refusals import RefusalError

    try:
        found = read_settings(file)
    except DocumentFaultsError as error:
        return tuple(str(fault) for fault in error.faults)
    at_file = (RefusalError(each.message, each.remedy, str(file)) for each in faults(found.keys))
    return tuple(map(str, at_file))


def _rows(found: Settings, file: Path) -> Iterable[tuple[str, str, str, str]]:
    """Give each setting with its value, where that comes from, and what it is for."""
    from finishsched.documents.formats.settings import SETTINGS
    from finishsched.documents.nodes import Fields
    from finishsched.documents.records import Key
    from finishsched.model.settings import Settings
    from finishsched.workshop.begin.plain_words import in_words

    written, usual = SETTINGS.write(found), Settings()
    for member in SETTINGS.members:
        if not isinstance(member, Key):
            continue
        node = written.get(member.name) if isinstance(written, Fields) else None
        source = str(file) if node is not None else "as usual"
        value = getattr(usual, member.attribute or member.name)
        said = (
            in_words(member, member.name, node or member.codec.write(value))
            if (node is not None or (value not in (None, (), "") and value != usual.keys))
            else "none"
        )
        yield member.name, said, source, member.says


def _lines(rows: list[tuple[str, str, str, str]], file: Path) -> Iterable[str]:
    for key, value, source, says in rows:
        yield f"{key:<8} {value:<28} {source}"
        yield f"         {says}"
    there = "" if file.is_file() else " (not there yet; the first setting makes it)"
    yield f"file: {file}{there}"


def _set(file: Path, key: str, value: str | None) -> None:
    """Write one setting into the file, and leave the rest of it to the byte."""
    from finishsched.bench.keys import faults
    from finishsched.documents.editing.edit import edited
    from finishsched.documents.user_settings import read_settings
    from finishsched.workshop.base.write_whole import write_chunks

    found = read_settings(file)
    new = _with(found, key, value)
    wrong = list(faults(new.keys))
    if wrong:
        raise CommandError(*map(str, wrong))
    text = file.read_bytes().decode("utf-8") if file.is_file() else _NEW
    file.parent.mkdir(parents=True, exist_ok=True)
    write_chunks(file, [edited(text, str(file), new).encode("utf-8")])


def _with(found: Settings, key: str, value: str | None) -> Settings:
    import re
    import shlex
    from types import MappingProxyType

    from finishsched.documents.formats.settings import SETTINGS
    from finishsched.documents.wording import did_you_mean
    from finishsched.model.settings import Settings
    from finishsched.workshop.begin.changing import SETTING_KEYS, part_with

    plain = key.lower()
    if plain.startswith("keys."):
        keys = {k: v for k, v in found.keys.items() if k != plain[5:]}
        if value is not None:
            keys[plain[5:]] = value
        return replace(found, keys=MappingProxyType(keys))
    if plain not in SETTING_KEYS:
        raise CommandError(f"no setting {key!r:.40}; {did_you_mean(plain, SETTING_KEYS)}")
    if plain == "keys":
        if value is None:
            return replace(found, keys=Settings().keys)
        raise CommandError("keys are set one by one; write finishsched settings keys.NAME KEY")
    if plain == "notify" and value is not None:
        return replace(found, notify=tuple(shlex.split(value)))
    if plain == "quiet" and value is not None and re.match(r"\d", value) and " to " in value:
        begin, _, end = value.partition(" to ")
        value = f"{{from: '{begin.strip()}', to: '{end.strip()}'}}"
    changed = part_with(SETTINGS, found, plain, value, "settings")
    assert isinstance(changed, Settings)  # noqa: S101
    return changed
