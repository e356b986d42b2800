"""To add, take out and move steps of a schedule on the bench, and to take the last change back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finishsched.bench.host import REMARK_S, Host
from finishsched.bench.typed.beginning import StepAsked

if TYPE_CHECKING:
    from collections.abc import Callable

    from finishsched.bench.screens.form import FormCard
    from finishsched.documents.lines.said import Doubt
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.stepping import Added
    from finishsched.workshop.begin.written import Written

_CHANGE, _AFTER, _BEFORE, _OUT, _END = "change", "after", "before", "out", "end"


class Stepping:
    """Leads from a schedule to a stage, to a step, and to what is done with it."""

    def __init__(
        self,
        host: Host,
        change_keys: Callable[[str], None],
        put: Callable[[Written, Workshop], bool],
        follow: Callable[[], None],
    ) -> None:
        """``change_keys`` lists a step's keys; ``put`` writes, and ``follow`` shows it."""
        self._host = host
        self._change_keys = change_keys
        self._put = put
        self._follow = follow

    def open(self, schedule: str) -> None:
        """List the stages of a schedule."""
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        workshop = self._host.open_shop()
        found = workshop.papers.schedules.get(schedule) if workshop else None
        if found is None:
            return
        choices = [
            Choice(
                stage.name.value,
                stage.name.value,
                ", ".join(plan.verb.value for plan in stage.step_plans()),
            )
            for stage in found.stages
        ]
        card = ChoiceCard(f"{schedule}: which stage?", "open it", choices)
        self._host.open_card(card, lambda stage: self._open_stage(schedule, stage))

    def take_back(self) -> None:
        """Undo the newest document that was written here, with what was told of its pieces."""
        from finishsched.workshop.begin.taking_back import take_back  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        undone = self._host.asked(lambda: take_back(workshop, self._host.now()))
        if undone is not None:
            self._follow()
            became = "is gone again" if undone.is_new else "is as it was"
            self._host.say(f"taken back: {undone.what}; {undone.path} {became}")

    def offered(self, form: FormCard, offer: StepAsked, workshop: Workshop) -> None:
        """Write the step that a line says, once no doubt is left; the form stays till then."""
        self._add(form, offer, workshop, {})

    def _open_stage(self, schedule: str, stage: str) -> None:
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        found = next(s for s in workshop.papers.schedules[schedule].stages if s.name.value == stage)
        choices = [Choice(f"{schedule}/{stage}/{p.id}", p.id, p.how) for p in found.step_plans()]
        choices.append(Choice(_END, "Add a step at the end", "in the words of a notebook"))

        def chosen(answer: str) -> None:
            if answer == _END:
                self._ask_line(f"{schedule}/{stage}", before=False)
            else:
                self._open_step(answer)

        self._host.open_card(ChoiceCard(f"{schedule}, {stage}", "open it", choices), chosen)

    def _open_step(self, step: str) -> None:
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        choices = [
            Choice(_CHANGE, "Change it", "wait, coats, product, grade, how"),
            Choice(_AFTER, "Add a step after it", "in the words of a notebook"),
            Choice(_BEFORE, "Add a step before it"),
            Choice("up", "Move it up"),
            Choice("down", "Move it down"),
            Choice(_OUT, "Take it out"),
        ]

        def chosen(answer: str) -> None:
            if answer == _CHANGE:
                self._change_keys(step)
            elif answer in (_AFTER, _BEFORE):
                self._ask_line(step, before=answer == _BEFORE)
            else:
                self._write(step, answer)

        self._host.open_card(ChoiceCard(step, "do it", choices), chosen)

    def _write(self, step: str, answer: str) -> None:
        from finishsched.workshop.begin.stepping import draft_moved, draft_removed  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        papers, folder = workshop.papers, workshop.folder

        def draft() -> Written:
            if answer == _OUT:
                return draft_removed(papers, folder, step)
            return draft_moved(papers, folder, step, answer)

        written = self._host.asked(draft)
        if written is not None and self._put(written, workshop):
            self._follow()
            self._host.say(f"{written.path}: {written.what}")

    def _ask_line(self, where: str, *, before: bool) -> None:
        from finishsched.bench.screens.begin_forms import step_form  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is not None:
            self._host.open_card(step_form(workshop, where, self._host.now, before=before))

    def _add(
        self, form: FormCard, offer: StepAsked, workshop: Workshop, answers: dict[str, str]
    ) -> None:
        from finishsched.workshop.begin.stepping import draft_added  # noqa: PLC0415

        def draft() -> Added:
            return draft_added(
                workshop.papers, workshop.folder, offer.where, offer.line, answers,
                self._host.now(), before=offer.before,
            )  # fmt: skip

        found = self._host.asked(draft)
        if found is None or found.written is None:
            return
        if found.doubts:
            doubt = found.doubts[0]
            self._ask_doubt(
                offer.line,
                doubt,
                lambda word: self._add(form, offer, workshop, {**answers, doubt.key: word}),
            )
            return
        if not self._put(found.written, workshop):
            return
        form.dismiss("")
        self._follow()
        for finding in found.findings:
            self._host.say(finding.without_place, seconds=REMARK_S, warns=True)
        assumed = "; ".join(each.says for each in found.assumed)
        said = f"{found.written.path}: {found.written.what}"
        self._host.say(f"{said}. Our assumption: {assumed}" if assumed else said, seconds=REMARK_S)

    def _ask_doubt(self, line: str, doubt: Doubt, answered: Callable[[str], None]) -> None:
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        ordered = sorted(doubt.choices, key=lambda choice: choice[0] != doubt.usual)
        choices = [Choice(word, word, says) for word, says in ordered]
        self._host.open_card(
            ChoiceCard(f"{line}: {doubt.question}", "answer it", choices), answered
        )
