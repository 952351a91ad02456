"""How versions look in the terminal: what was frozen, and what differs."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from seamproof.answers.versions import ChangeLine, EditionLine, RedlineAnswer, ReleaseAnswer
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.length.notation import inches
from seamproof.programme.facts import called
from seamproof.programme.versions import BOOKLET


def show_release(answer: ReleaseAnswer) -> None:
    """Whether it was frozen, every size and colourway, and what testers said."""
    if answer.version:
        say(f"{answer.name}: version {answer.version} is frozen, {answer.facts} facts")
    else:
        frozen = ", ".join(answer.versions) or "none"
        say(f"{answer.name}: nothing was frozen; frozen are {frozen}")
    say("")
    rows = [
        (line.size or "as set", line.colourway or "as named", _finished(line), line.says)
        for line in answer.editions
    ]
    show_table(("Size", "Colourway", "Finished, in", ""), rows)
    for line in answer.editions:
        called = ", ".join(part for part in (line.size, line.colourway) if part) or "As set"
        buys = ", ".join(f"{buy.fabric.upper()} {buy.name} {buy.buy}" for buy in line.buys)
        say(f"  {called}: {buys}")
    if answer.forms or answer.invited:
        of = f" of {answer.invited}" if answer.invited else ""
        say(
            "",
            f"Forms that came back: {answer.forms}{of}; steps that testers wrote about: "
            f"{answer.answered}; open points: {answer.open_points}",
        )
    for file in answer.files[:1]:
        say("", f"wrote {file} and {len(answer.files) - 1} files beside it")
    show_notes(answer.findings)


def _finished(line: EditionLine) -> str:
    if line.finished_in is None:
        return ""
    width, height = (inches(Fraction(side).limit_denominator(64)) for side in line.finished_in)
    return f"{width} × {height}"


def show_redline(answer: RedlineAnswer) -> None:
    """What somebody changed, then what follows from it."""
    to = f"version {answer.new}" if answer.new else "the quilt as it is"
    say(f"{answer.name}: from version {answer.old} to {to}")
    if not answer.changes:
        say("", "Nothing differs.")
    written = [line for line in answer.changes if line.written]
    printed = [line for line in answer.changes if line.about.startswith(BOOKLET)]
    follows = [line for line in answer.changes if not line.written and line not in printed]
    for title, lines in (("What was changed", written), ("What follows", follows)):
        if lines:
            say("", title)
            _lines(lines)
    if printed:
        say("", "What the booklet says differently")
        sections = Counter(line.about.removeprefix(BOOKLET) for line in printed)
        for section, count in sections.items():
            say(f"  {section}: {count} {'line' if count == 1 else 'lines'}")
        if not answer.files:
            say("  -o LIST.csv writes them all.")
    more = [f"{line.more} more of {called(line.fabric)}" for line in answer.extra if line.more]
    if more:
        say("", f"Those who bought by version {answer.old} need {', '.join(more)}.")
    for file in answer.files:
        say("", f"wrote {file}")
    show_notes(answer.findings)


def _lines(lines: list[ChangeLine]) -> None:
    about = ""
    for line in lines:
        if line.about != about:
            about = line.about
            say(f"  {about}")
        if line.kind == "changed":
            say(f"    {line.what}: {line.old} → {line.new}")
        else:
            says = line.new if line.kind == "new" else line.old
            say(f"    {line.what}, {line.kind}: {says}")
