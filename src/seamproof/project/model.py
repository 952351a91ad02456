"""The words of files: a project, its preferences, and a source: one block file that was read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path
from typing import Literal

from seamproof.cloth.buying import Buying
from seamproof.cloth.model import Fixed
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Drawing, Fabric, Written
from seamproof.findings import Where
from seamproof.length.notation import Measure
from seamproof.pressing.model import PressSettings
from seamproof.programme.model import Asked
from seamproof.project.palette import fabrics_from_palette
from seamproof.setting.model import Setting


@dataclass(frozen=True, slots=True)
class Preferences:
    """What a project decides for all its blocks. Lengths in inches; None is what its measure uses:
    1/4 in seams on eighths, or 0.75 cm on quarters of a centimetre.

    `measure` is how lengths are written and what a number without a unit means in the files.
    `oversize` and `methods` go by kind of unit and hold only what departs from the usual. `auto`
    are the kinds of which the oversize is to be worked out, each with how many of 100 makers like
    `maker` shall be able to square up all they need.
    """

    measure: Measure = "in"
    seam: Fraction | None = None
    ruler: Fraction | None = None
    sizes: Literal["trimmed", "exact"] = "trimmed"
    oversize: tuple[tuple[str, Fraction], ...] = ()
    auto: tuple[tuple[str, int], ...] = ()
    maker: str = "everyday"
    methods: tuple[tuple[str, Written], ...] = ()
    paper: Literal["letter", "a4"] | None = None
    bought: Buying | None = None
    pressing: PressSettings = field(default_factory=PressSettings)

    @property
    def buying(self) -> Buying:
        """How cloth is bought: as the project says, else as is usual in its measure."""
        return self.bought or (Buying.metric() if self.measure == "cm" else Buying())

    def cutting(self, methods: Iterable[tuple[str, Written]] = ()) -> CuttingSettings:
        """What the cutting stage is told. `methods` are those of a block file, which go before
        those of the project.

        >>> chosen = Preferences(measure="cm", oversize=(("hourglass", Fraction(1, 2)),)).cutting()
        >>> str(chosen.seam), str(chosen.oversize["hourglass"])
        ('75/254', '1/2')
        """
        usual = CuttingSettings.metric() if self.measure == "cm" else CuttingSettings()
        chosen = {kind: written.text for kind, written in (*self.methods, *methods)}
        return CuttingSettings(
            seam=usual.seam if self.seam is None else self.seam,
            step=usual.step if self.ruler is None else self.ruler,
            sizes=self.sizes,
            oversize={**usual.oversize, **dict(self.oversize)},
            methods=chosen,
            usable_width=usual.usable_width,
            squaring=usual.squaring,
        )

    @property
    def sheet(self) -> Literal["letter", "a4"]:
        """The paper to print on: the one chosen, else A4 for centimetres and Letter for inches."""
        return self.paper or ("a4" if self.measure == "cm" else "letter")


@dataclass(frozen=True, slots=True)
class Supply:
    """What a fabric can be cut from: pieces of a `fixed` size, `yardage` or not, and what is on the
    `shelf` already; each piece with its place in the file. `price` is that of a yard or a metre."""

    fixed: tuple[tuple[Fixed, Where], ...] = ()
    shelf: tuple[tuple[Fixed, Where], ...] = ()
    yardage: bool = True
    price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class QuiltSize:
    """Another size of the same quilt: its blocks in another setting."""

    name: str
    setting: Setting


@dataclass(frozen=True, slots=True)
class Colourway:
    """Another colourway of the same quilt: the fabrics that differ, by letter, and what is said of
    their cloth and price; where nothing is said, it is that of the quilt's own."""

    name: str
    fabrics: tuple[Fabric, ...]
    supplies: tuple[tuple[str, Supply], ...] = ()


@dataclass(frozen=True, slots=True)
class Project:
    """A quilt in a folder: its fabrics, its preferences, its block files in order.

    `given` is False if there is no ``quilt.yaml``: then the defaults hold, `fabrics` is empty and
    any letter names a fabric.
    """

    folder: Path | None = None
    name: str = ""
    fabrics: tuple[Fabric, ...] = ()
    preferences: Preferences = field(default_factory=Preferences)
    blocks: tuple[Path, ...] = ()
    given: bool = False
    supplies: tuple[tuple[str, Supply], ...] = ()
    setting: Setting | None = None
    programme: Asked | None = None
    sizes: tuple[QuiltSize, ...] = ()
    colourways: tuple[Colourway, ...] = ()

    def edition(self, size: QuiltSize | None, colourway: Colourway | None) -> Project:
        """The same quilt in another size and colourway; None is its own."""
        changed = {} if colourway is None else {f.letter: f for f in colourway.fabrics}
        return replace(
            self,
            setting=self.setting if size is None else size.setting,
            fabrics=tuple(changed.get(fabric.letter, fabric) for fabric in self.fabrics),
            supplies=tuple(
                {
                    **dict(self.supplies),
                    **dict(() if colourway is None else colourway.supplies),
                }.items()
            ),
        )

    def supply(self, letter: str) -> Supply:
        """What a fabric can be cut from; by the yard if nothing is said."""
        return dict(self.supplies).get(letter, Supply())

    @property
    def letters(self) -> frozenset[str] | None:
        """The letters of its fabrics; None if any letter is fine."""
        return frozenset(fabric.letter for fabric in self.fabrics) if self.given else None

    def cutting(self, methods: Iterable[tuple[str, Written]] = ()) -> CuttingSettings:
        """What the cutting stage is told: the preferences, and how wide each fabric is."""
        settings = self.preferences.cutting(methods)
        widths = {fabric.letter: fabric.usable_width for fabric in self.fabrics}
        return replace(settings, usable_widths=widths)


@dataclass(frozen=True, slots=True)
class Source:
    """One block file: what it draws, the project it belongs to, and its text with LF line ends."""

    path: Path
    drawing: Drawing
    project: Project
    text: str

    @property
    def lines(self) -> tuple[str, ...]:
        """The lines of the text; the first is number 1 in places."""
        return tuple(self.text.split("\n"))


def fabrics_for(
    letters: Iterable[str], project: Project
) -> tuple[tuple[Fabric, ...], tuple[str, ...]]:
    """The fabric of each letter, in alphabetical order, and the letters that the project lacks.

    A fabric that the project lacks gets a colour of its own from a palette.

    >>> fabrics, missing = fabrics_for("ba", Project())
    >>> [fabric.letter for fabric in fabrics], missing
    (['a', 'b'], ('a', 'b'))
    >>> fabrics_for("", Project())
    ((), ())
    """
    wanted = sorted(set(letters), key=lambda letter: (len(letter), letter))
    own = {fabric.letter: fabric for fabric in project.fabrics}
    missing = tuple(letter for letter in wanted if letter not in own)
    taken = {fabric.colour for fabric in project.fabrics}
    width = project.preferences.cutting().usable_width
    made = {
        fabric.letter: replace(fabric, usable_width=width)
        for fabric in fabrics_from_palette(missing, taken)
    }
    return tuple(own.get(letter) or made[letter] for letter in wanted), missing
