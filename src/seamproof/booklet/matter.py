"""What a booklet is made from: the results of the stages, and the teacher's own words."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from seamproof.booklet.model import Photo
from seamproof.cloth.buying import Buying, Purchase
from seamproof.cloth.model import Cloth, Laid
from seamproof.cloth.pooling import Kind, Pool
from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.draft.model import Block, Fabric
from seamproof.findings import Finding
from seamproof.length.notation import Measure
from seamproof.piecing.model import PiecingPlan
from seamproof.pressing.model import Press, Pressed, PressSettings
from seamproof.programme.model import Need
from seamproof.setting.model import Top
from seamproof.setting.seams import SetPress


@dataclass(frozen=True, slots=True)
class BlockMatter:
    """One block that came out. `slug` names it in files, `copies` is how many are made, `usual`
    how it would be pressed by the usual rules alone, if a lesson asks for it."""

    slug: str
    block: Block
    fabrics: tuple[Fabric, ...]
    piecing: PiecingPlan
    cutting: CuttingList
    settings: CuttingSettings
    pressed: Pressed | None
    pressing: PressSettings
    findings: tuple[Finding, ...]
    copies: int
    usual: Pressed | None = None

    @property
    def name(self) -> str:
        """What it is called."""
        return self.block.name


@dataclass(frozen=True, slots=True)
class ClothMatter:
    """One fabric: what is cut from it, how it lies and what to buy. `laid` is None if it cannot be
    laid."""

    fabric: Fabric
    pool: Pool
    cloth: Cloth
    laid: Laid | None
    purchase: Purchase | None

    @property
    def kinds(self) -> dict[str, Kind]:
        """What is cut, by the names of the lay."""
        return {kind.demand.name: kind for kind in self.pool.kinds}


@dataclass(frozen=True, slots=True)
class OwnBlock:
    """What the teacher says of one block: an introduction, what is learnt by it, and her times:
    minutes by what they are for."""

    intro: tuple[str, ...] = ()
    aims: tuple[str, ...] = ()
    minutes: tuple[tuple[str, Fraction], ...] = ()


@dataclass(frozen=True, slots=True)
class PlacedPhoto:
    """A photograph and where it belongs: "cover", "finished", "wrong side" or "step-out", of the
    block of that name, "" for the whole quilt."""

    place: str
    block: str
    photo: Photo


@dataclass(frozen=True, slots=True)
class Own:
    """The teacher's own words. `sentences` replace sentences of the program's, by their names."""

    above: str = ""
    by: str = ""
    story: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    skill: str = ""
    version: str = ""
    corrections: str = ""
    contact: str = ""
    credits: tuple[str, ...] = ()
    blocks: tuple[tuple[str, OwnBlock], ...] = ()
    photos: tuple[PlacedPhoto, ...] = ()
    sentences: tuple[tuple[str, str], ...] = ()

    def block(self, name: str) -> OwnBlock:
        """What is said of one block; nothing if nothing is."""
        return dict(self.blocks).get(name, OwnBlock())

    def photos_at(self, place: str, block: str = "") -> tuple[Photo, ...]:
        """The photographs for a place."""
        return tuple(p.photo for p in self.photos if (p.place, p.block) == (place, block))


@dataclass(frozen=True, slots=True)
class Release:
    """What goes out on one day, blocks and parts of the finishing, and what is `new` in it."""

    day: date
    blocks: tuple[str, ...]
    holds: tuple[str, ...]
    new: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Year:
    """The releases in order, and the cloth of one quilt by release."""

    releases: tuple[Release, ...]
    needs: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class SewnKind:
    """A block as it is pressed in the top: its name there, what it is called to whoever sews, its
    own name, and its press plan."""

    name: str
    called: str
    block: str
    presses: tuple[Press, ...]


@dataclass(frozen=True, slots=True)
class SewnTop:
    """The top as it is sewn: blocks that are pressed in two ways are kinds of their own in `top`.
    `presses` are the seams of the setting, one per run of its plan."""

    top: Top
    presses: tuple[SetPress, ...]
    kinds: tuple[SewnKind, ...]

    @property
    def called(self) -> dict[str, str]:
        """What the blocks under their names in `top` are called."""
        return {kind.name: kind.called for kind in self.kinds}


@dataclass(frozen=True, slots=True)
class Matter:
    """A whole quilt: its blocks in order, its top (None without a setting), how that is sewn and
    pressed (None if it cannot be), and the cloth for all of it. `proved` says that every size was
    added up and comes out. `year` is None for a quilt that is not given out release by release.
    """

    name: str
    measure: Measure
    fabrics: tuple[Fabric, ...]
    settings: CuttingSettings
    buying: Buying
    blocks: tuple[BlockMatter, ...]
    cloths: tuple[ClothMatter, ...]
    top: Top | None = None
    findings: tuple[Finding, ...] = ()
    proved: bool = True
    own: Own = field(default_factory=Own)
    year: Year | None = None
    sewn: SewnTop | None = None

    @property
    def drawn(self) -> dict[str, Block]:
        """The blocks by name."""
        return {one.name: one.block for one in self.blocks}

    @property
    def pieced_edge(self) -> bool:
        """Whether seams run into the outer edge of the top."""
        return self.top is None or not self.top.borders or self.top.borders[-1].kind == "pieced"
