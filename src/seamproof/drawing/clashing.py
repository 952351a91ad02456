"""Texts of a placed picture that meet."""

from __future__ import annotations

from seamproof.drawing.placing import Placed


def clashes(placed: Placed, clear: float = 0.5) -> tuple[tuple[str, str], ...]:
    """Pairs of texts of a picture that meet or come nearer than `clear` to each other.

    >>> from seamproof.drawing.placing import place
    >>> from seamproof.drawing.scene import Label, Scene
    >>> one, two = Label((0, 0), "6"), Label((0.05, 0), "7")
    >>> clashes(place(Scene((one, two)), 1.0)), clashes(place(Scene((one,)), 1.0))
    ((('6', '7'),), ())
    """
    texts = placed.texts
    return tuple(
        (a.line.text, b.line.text)
        for i, a in enumerate(texts)
        for b in texts[i + 1 :]
        if a.box[0] < b.box[2] + clear
        and b.box[0] < a.box[2] + clear
        and a.box[1] < b.box[3] + clear
        and b.box[1] < a.box[3] + clear
    )
