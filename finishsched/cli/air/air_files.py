"""``air --import`` and ``air --watch``: readings from the files that hygrometers write."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Any

from finishsched.cli.common import answer, say_folded, world
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.outgoing import say, say_json
from finishsched.cli.shop_door import open_shop
from finishsched.cli.working import working
from finishsched.journal.events import utc_text
from finishsched.numerals import counted
from finishsched.units import TEMPERATURE, show
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.wall_clock import full

if TYPE_CHECKING:
    from finishsched.workshop.air.hygrometer.reading import HygrometerLog, Reading, SkippedRow
    from finishsched.workshop.air.hygrometer.times import Order
    from finishsched.workshop.air.imported import AirImport
    from finishsched.workshop.air.watch import AirWatch
    from finishsched.workshop.base.workshop import Workshop

POLL_S = 2.0
"""How often a followed file is looked at; hygrometers write once a minute or less."""

_ROWS_TOLD = 10

sleep: Callable[[float], None] = time.sleep


def import_files(
    shop: str | None, files: Sequence[str], dates: Order | None, *, as_json: bool
) -> Exit:
    """Take every file or, when one cannot be made out, none; say what came of each."""
    from finishsched.workshop.air.imported import keep_air

    now = world().now()
    # A year of readings is a million small objects, all alive: to look them over for cycles again
    # and again would take a quarter of the time.
    gc.disable()
    try:
        with working("reading the hygrometer"), open_shop(shop, now) as workshop:
            logs = _logs(files, workshop, dates, now)
            found = keep_air(workshop, logs, now)
            zone = workshop.zone
    finally:
        gc.enable()
    answer(
        as_json,
        lambda: _data(found),
        lambda: (line for one in found for line in _lines(one, zone)),
    )
    return Exit.DONE if any(one.readings or one.already_there for one in found) else Exit.NO


def watch_file(shop: str | None, file: str, dates: Order | None, *, as_json: bool) -> Exit:
    """Take what is in a file, and then each reading that is added to it, until ctrl-C."""
    from finishsched.workshop.air.watch import AirWatch

    with open_shop(shop, world().now()) as workshop:
        watch = AirWatch(workshop, world().cwd / file, _source_name(Path(file)), dates)
        say = _Teller(workshop, as_json=as_json)
        try:
            say.beginning(watch.look(world().now()))
            while True:
                sleep(POLL_S)
                _look_again(watch, say)
        except KeyboardInterrupt:
            return Exit.DONE


def _source_name(path: Path) -> str:
    """Return a file's name as the journal may keep it; bytes that are no text become ``?``."""
    return path.name.encode("utf-8", "replace").decode()


def _look_again(watch: AirWatch, say: _Teller) -> None:
    from finishsched.journal.faults import JournalFaultError
    from finishsched.workshop.air.hygrometer.cells import HygrometerFaultError

    try:
        found = watch.look(world().now())
    except (JournalFaultError, HygrometerFaultError) as error:
        watch.start_over()
        say.trouble(str(error))
    except OSError as error:
        say.trouble(f"{watch.path}: {error.strerror or error}; waiting for it")
    else:
        say.new(found)


class _Teller:
    """Says what a watch finds: readings on standard output, all else on standard error."""

    def __init__(self, workshop: Workshop, *, as_json: bool) -> None:
        self._zone = workshop.zone
        self._unit = workshop.papers.shop.units.temperature
        self._as_json = as_json
        self._told = ""

    def beginning(self, found: AirImport | None) -> None:
        """Say what was there; in JSON one line for each reading, as for those to come."""
        if found is not None and self._as_json:
            self.new(found)
        elif found is not None:
            for line in _lines(found, self._zone):
                say_folded(line)
        say("watching for readings; ctrl-C ends it", err=True)

    def new(self, found: AirImport | None) -> None:
        """Say one line for each reading and each bad row."""
        if found is None:
            return
        self._told = ""
        for reading in found.readings:
            if self._as_json:
                say_json(_reading_data(reading))
            else:
                say(self._line(reading))
        for line in _skipped_lines(found.skipped):
            say(line, err=True)

    def trouble(self, words: str) -> None:
        """Say what is wrong once, however long it lasts."""
        if words != self._told:
            say(words, err=True)
        self._told = words

    def _line(self, reading: Reading) -> str:
        degrees = show(reading.temperature_c, TEMPERATURE, self._unit)
        return f"{full(reading.at, self._zone)}  {degrees}, {reading.humidity_percent:g} %"


def _logs(
    files: Sequence[str], workshop: Workshop, dates: Order | None, now: datetime
) -> list[HygrometerLog]:
    """Read all the files.

    Raises:
        CommandError: with the fault of every file that has one.

    """
    from finishsched.workshop.air.following import read_file
    from finishsched.workshop.air.hygrometer.cells import HygrometerFaultError
    from finishsched.workshop.air.hygrometer.reading import read_hygrometer

    logs: list[HygrometerLog] = []
    faults: list[str] = []
    for file in files:
        try:
            text, name = read_file(world().cwd / file), _source_name(Path(file))
            logs.append(read_hygrometer(text, name, workshop.zone, now, dates))
        except HygrometerFaultError as error:
            faults.append(str(error))
        except OSError as error:
            faults.append(f"--import: {file}: {error.strerror or error}")
    if faults:
        raise CommandError(*faults)
    return logs


def _lines(found: AirImport, zone: tzinfo) -> Iterator[str]:
    yield f"{found.name}: {', '.join(_summary(found, zone))}"
    for step in found.clock_steps[:_ROWS_TOLD]:
        yield f"  line {step.line}: the logger's clock went back by {span(step.back_s)}"
    for gap in found.gaps[:_ROWS_TOLD]:
        yield f"  gap from {full(gap.begins, zone)} to {full(gap.ends, zone)}"
    yield from _skipped_lines(found.skipped)


def _summary(found: AirImport, zone: tzinfo) -> Iterator[str]:
    count = _count(len(found.readings), "reading") if found.readings else "no new readings"
    if found.first_at and found.last_at:
        count += f" from {full(found.first_at, zone)} to {full(found.last_at, zone)}"
    yield count
    if found.skipped:
        yield f"{_count(len(found.skipped), 'row')} skipped"
    if found.gaps:
        longest = span(max(gap.length_s for gap in found.gaps))
        many = len(found.gaps) > 1
        yield f"{len(found.gaps)} gaps, the longest {longest}" if many else f"1 gap of {longest}"
    if found.clock_steps:
        yield f"{_count(len(found.clock_steps), 'step')} back of the logger's clock"
    if found.already_there:
        yield f"{found.already_there} already there"


def _skipped_lines(skipped: Sequence[SkippedRow]) -> Iterator[str]:
    for row in skipped[:_ROWS_TOLD]:
        yield f"  line {row.line} skipped: {row.reason}"
    if len(skipped) > _ROWS_TOLD:
        yield f"  and {len(skipped) - _ROWS_TOLD} more rows skipped; --json tells all"


def _data(found: Sequence[AirImport]) -> dict[str, Any]:
    """Return what came of all files together, and then of each."""
    instants = [at for one in found for at in (one.first_at, one.last_at) if at is not None]
    each = [_file_data(one) for one in found]
    return {
        "imported": sum(len(one.readings) for one in found),
        "already_there": sum(one.already_there for one in found),
        "skipped": [{"file": data["file"], **row} for data in each for row in data["skipped"]],
        "first_at": utc_text(min(instants)) if instants else None,
        "last_at": utc_text(max(instants)) if instants else None,
        "gaps": [{"file": data["file"], **gap} for data in each for gap in data["gaps"]],
        "files": each,
    }


def _file_data(one: AirImport) -> dict[str, Any]:
    return {
        "file": one.name,
        "imported": len(one.readings),
        "already_there": one.already_there,
        "skipped": [{"line": row.line, "reason": row.reason} for row in one.skipped],
        "first_at": utc_text(one.first_at) if one.first_at else None,
        "last_at": utc_text(one.last_at) if one.last_at else None,
        "gaps": [_gap_data(gap.begins, gap.ends, gap.length_s) for gap in one.gaps],
        "clock_steps": [{"line": step.line, "back_s": step.back_s} for step in one.clock_steps],
    }


def _gap_data(begins: datetime, ends: datetime, length_s: float) -> dict[str, Any]:
    return {"from": utc_text(begins), "to": utc_text(ends), "length_s": length_s}


def _reading_data(reading: Reading) -> dict[str, Any]:
    return {
        "at": utc_text(reading.at),
        "temperature_c": reading.temperature_c,
        "humidity_percent": reading.humidity_percent,
    }


def _count(number: int, noun: str) -> str:
    return counted(number, noun)
