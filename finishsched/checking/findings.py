"""Run the rules over a schedule, a piece or a shop: what they find, less what is accepted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from finishsched.checking.cases import PieceCase, ProductCase, ScheduleCase, ShopCase
from finishsched.checking.registry import RULES
from finishsched.checking.rule import Finding, Found, Rule
from finishsched.checking.rules.silence import IDLE, SILENCE_RULES, UNKNOWN
from finishsched.checking.said.asked import BESIDE_THEIR_RULES, said_against
from finishsched.checking.said.suited import codes_for, suited_piece
from finishsched.model.accepted import Accepted
from finishsched.model.product import Product


def schedule_findings(case: ScheduleCase) -> tuple[Finding, ...]:
    """Return what the rules find in a schedule by itself, less what it accepts."""
    return accepted_out(seen_in(case), case.schedule.accepted)


def seen_in(case: ScheduleCase) -> tuple[Finding, ...]:
    """Return all that each rule sees in a schedule by itself, the same fault by several of them."""
    of_steps = (
        (rule, rule.on_schedule(case)) for rule in RULES.values() if rule.on_schedule is not None
    )
    by_words = ((RULES[code], said_against(case, code)) for code in BESIDE_THEIR_RULES)
    return _each((*of_steps, *by_words, *_of_what_it_suits(case)))


def _of_what_it_suits(case: ScheduleCase) -> Iterator[tuple[Rule, Iterable[Found]]]:
    """Give what rules about pieces find in the wood that the schedule says it is for."""
    piece = suited_piece(case)
    for code in codes_for(piece) if piece is not None else ():
        rule = RULES[code]
        if piece is not None and rule.on_piece is not None:
            yield rule, [replace(one, path=("suits",)) for one in rule.on_piece(piece)]


def piece_findings(case: PieceCase) -> tuple[Finding, ...]:
    """Return what the rules find in one piece with its schedule; nothing is silenced yet."""
    return _each(
        (rule, rule.on_piece(case)) for rule in RULES.values() if rule.on_piece is not None
    )


def shop_findings(case: ShopCase) -> tuple[Finding, ...]:
    """Return what the rules find in a shop, less what it accepts."""
    found = _each((rule, rule.on_shop(case)) for rule in RULES.values() if rule.on_shop is not None)
    return accepted_out(found, case.shop.accepted)


def product_findings(product: Product) -> tuple[Finding, ...]:
    """Return what the rules find in a product's document."""
    case = ProductCase(product)
    return _each(
        (rule, rule.on_product(case)) for rule in RULES.values() if rule.on_product is not None
    )


def accepted_out(
    findings: Iterable[Finding], accepted: tuple[Accepted, ...]
) -> tuple[Finding, ...]:
    """Return the faults that are not accepted, each told once, and what is wrong with what is."""
    findings = tuple(findings)
    found = {finding.code for finding in findings}
    silent = {one.rule for one in accepted}
    kept = [finding for finding in told_once(findings) if finding.code not in silent]
    return (*kept, *_idle(accepted, found))


def told_once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings less those that see a fault which another one tells, and asks more for.

    A coat that is sanded and covered too soon is one fault, whichever rules see it.
    """
    findings = tuple(findings)
    best: dict[str, Finding] = {}
    for one in findings:
        other = best.setdefault(one.found.about, one)
        if one.weight > other.weight:
            best[one.found.about] = one
    return tuple(one for one in findings if not one.found.about or best[one.found.about] is one)


def _idle(accepted: tuple[Accepted, ...], told: set[str]) -> Iterator[Finding]:
    for at, one in enumerate(accepted):
        path = ("accepted", at, "rule")
        if one.rule not in RULES or RULES[one.rule] in SILENCE_RULES:
            message = f"there is no rule {one.rule!r} to accept"
            yield Finding(UNKNOWN, Found(path, message, _near(one.rule)))
        elif one.rule not in told:
            yield Finding(IDLE, Found(path, f"{one.rule!r} is accepted and finds nothing here"))


def _near(code: str) -> str:
    from finishsched.near import nearest  # noqa: PLC0415  # only for a code that is wrong

    near = nearest(code, RULES)
    return f"did you mean {near!r}?" if near else UNKNOWN.remedy


def _each(checks: Iterable[tuple[Rule, Iterable[Found]]]) -> tuple[Finding, ...]:
    """Return the findings, one for each rule and place: a step in rounds is written once."""
    found: dict[tuple[str, tuple[str | int, ...], str], Finding] = {}
    for rule, findings in checks:
        for one in findings:
            found.setdefault((rule.code, one.path, one.which), Finding(rule, one))
    return tuple(found.values())
