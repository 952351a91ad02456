"""How a whole top is pressed and how thick it lies: its blocks by their plans, then the setting.

The blocks' plans are remembered like any other result. The layers of the top are counted anew:
equal places once, so that takes about as long as its distinct kinds of block.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from seamproof.errors import Stopped
from seamproof.findings import Finding
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, ProjectProgress, Stop
from seamproof.pipeline.pressing import PressedWork, press_block, press_settings
from seamproof.pipeline.setting import TopWork, available
from seamproof.pressing.checks import TOO_MANY_LAYERS, TOO_THICK
from seamproof.pressing.kinds import Kind, block_kind, scaled_kind
from seamproof.pressing.model import PlanName, PressSettings
from seamproof.pressing.tables import OPEN
from seamproof.pressing.top_layers import Known, Laid, lay
from seamproof.pressing.top_map import TopLayers, top_layers
from seamproof.setting.model import Setting, Top
from seamproof.setting.seams import SetPress, alternating, presses
from seamproof.setting.targets import MANY
from seamproof.setting.top import set_top
from seamproof.setting.variants import PATTERNS, End, Pattern, Plan, Variant, nested, varied


@dataclass(frozen=True, slots=True)
class PressedTop:
    """A top with every seam pressed.

    `top` is the top as it is sewn: where blocks are pressed in two ways, or rows in turn, they are
    kinds of their own, and `variants` say what their names mean. `pattern` says which blocks are
    pressed by their plan B. `presses` are the seams of the setting, one per run of its plan;
    `nested` counts the seams of blocks that nest where they meet across an edge, and all of them.
    `laid` and `layers` are how thick it lies; `usual` the same by the usual rules, `opened` with
    every seam of the setting open. Seams are opened against the usual rules, `departs`, where these
    go above the limit and opening does so less: those between blocks, or else all. `blocks` are the
    blocks by their names in `top`.
    """

    top: Top
    variants: Mapping[str, Variant]
    pattern: Pattern
    presses: tuple[SetPress, ...]
    nested: tuple[int, int]
    settings: PressSettings
    laid: Laid
    layers: TopLayers
    usual: TopLayers
    opened: TopLayers
    blocks: Mapping[str, PressedWork] = field(default_factory=dict)

    @property
    def departs(self) -> bool:
        """Whether the seams of the setting are opened against the usual rules."""
        return self.layers is not self.usual

    @property
    def called(self) -> dict[str, str]:
        """What the blocks under their names in `top` are called to whoever sews."""
        return {name: variant.called for name, variant in self.variants.items()}


@dataclass(eq=False)
class Bench:
    """What tops of the same blocks share: the windows that were counted, and by the block's name
    and its plan how it is pressed, how it then lies, and where its seams run out."""

    windows: Known = field(default_factory=Known)
    pressed: dict[tuple[str, Plan], PressedWork] = field(default_factory=dict)
    kinds: dict[tuple[str, Plan], Kind] = field(default_factory=dict)
    ends: dict[tuple[str, Plan], tuple[End, ...]] = field(default_factory=dict)


def press_top(
    work: TopWork,
    *,
    bench: Bench | None = None,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> tuple[PressedTop | None, tuple[Finding, ...]]:
    """The top pressed, and what there is to say about that; no top if there is none to press, or a
    block of it cannot be pressed. Its blocks must have been worked out until they are cut. What is
    on the `bench` from other tops of these blocks is not worked out again.

    Raises Stopped if `stop` says so.
    """
    bench = bench or Bench()
    planned, found = _planned(work, bench, memory, progress, stop)
    if planned is None:
        return None, found
    top, settings, kinds = planned.top, planned.settings, planned.kinds
    said, chosen, layers, usual = _thinnest(planned, bench)
    opened = lay(top.plan, kinds, [OPEN] * len(said), settings, bench.windows)
    pressed_top = PressedTop(
        top,
        planned.variants,
        planned.pattern,
        said,
        planned.good,
        settings,
        chosen,
        layers,
        usual,
        top_layers(opened, settings),
        {
            name: bench.pressed[variant.block, variant.plan]
            for name, variant in planned.variants.items()
            if (variant.block, variant.plan) in bench.pressed
        },
    )
    return pressed_top, tuple(_thick(pressed_top))


def thick_spots(
    work: TopWork,
    setting: Setting,
    *,
    bench: Bench,
    memory: Memory | None = None,
    stop: Stop | None = None,
) -> int | None:
    """How many places above the limit the same blocks have in another setting; None if it cannot be
    set or pressed."""
    blocks = [replace(available(one), copies=MANY) for one in work.blocks]
    top, _ = set_top(setting, blocks, (), work.project.cutting(), measure=work.measure)
    other = replace(work, setting=setting, top=top)
    planned, _ = _planned(other, bench, memory, None, stop)
    return None if planned is None else len(_thinnest(planned, bench)[2].spots)


@dataclass(frozen=True, slots=True)
class _Planned:
    """A top with its press signs, before its layers are counted."""

    top: Top
    variants: Mapping[str, Variant]
    pattern: Pattern
    said: tuple[SetPress, ...]
    good: tuple[int, int]
    settings: PressSettings
    kinds: Mapping[str, Kind]


def _planned(
    work: TopWork,
    bench: Bench,
    memory: Memory | None,
    progress: ProjectProgress | None,
    stop: Stop | None,
) -> tuple[_Planned | None, tuple[Finding, ...]]:
    if work.top is None:
        return None, ()
    used = [one for one in work.blocks if one.drawing.name in {b.name for b in work.top.blocks}]

    def by(one: BlockWork, plan: Plan) -> PressedWork:
        key = (one.drawing.name, plan)
        if key not in bench.pressed:
            told = None
            if progress is not None:
                told = functools.partial(progress, one.source.path, len(work.blocks))
            name: PlanName = "best" if plan == "A" else "b"
            made = press_block(one, name=name, memory=memory, progress=told, stop=stop)
            bench.pressed[key] = made
        return bench.pressed[key]

    firsts = [by(one, "A") for one in used]
    if any(one.pressed is None for one in firsts):
        return None, tuple(
            finding
            for one in firsts
            for finding in one.findings
            if finding.severity == "error" and 400 <= finding.code < 500
        )
    settings = _settings(work, used)
    rows = alternating(work.top.plan, dict(work.top.roles))
    pattern, top, variants, good = _chosen(work, used, bench, by, rows=rows)
    odd = frozenset(name for name, variant in variants.items() if variant.odd)
    said = presses(top.plan, dict(top.roles), odd)
    if stop is not None and stop():
        raise Stopped("the top was stopped before its layers were counted")
    scales = {block.name: block.scale for block in top.blocks}
    kinds: dict[str, Kind] = {}
    for name, variant in variants.items():
        key = (variant.block, variant.plan)
        if key not in bench.pressed:
            continue
        if key not in bench.kinds:
            bench.kinds[key] = _kind(bench.pressed[key])
        kinds[name] = scaled_kind(bench.kinds[key], scales.get(name, UNSCALED))
    return _Planned(top, variants, pattern, said, good, settings, kinds), ()


UNSCALED = (Fraction(1), Fraction(1))


def _thinnest(
    planned: _Planned, bench: Bench
) -> tuple[tuple[SetPress, ...], Laid, TopLayers, TopLayers]:
    """The presses of the setting, how thick the top lies with them, and with the usual rules alone:
    these hold unless they go above the limit and opening seams does so less."""
    top, settings, said = planned.top, planned.settings, planned.said

    def laid(some: Sequence[SetPress]) -> Laid:
        ways = [press.way for press in some]
        return lay(top.plan, planned.kinds, ways, settings, bench.windows)

    chosen = laid(said)
    layers = usual = top_layers(chosen, settings)
    if usual.spots:
        for which in (_between_blocks, _everywhere):
            other = tuple(_opened(press) if which(press) else press for press in planned.said)
            found = laid(other)
            less = top_layers(found, settings)
            if _thickness(less) < _thickness(layers):
                said, chosen, layers = other, found, less
    return said, chosen, layers, usual


def _opened(press: SetPress) -> SetPress:
    return replace(press, way=OPEN, towards="open", rule="open", ditch=None)


def _between_blocks(press: SetPress) -> bool:
    """Whether a seam has the same bulk on both sides, or blocks on one and triangles on the other:
    those to sashing, coping and borders are left alone."""
    return press.rule != "less bulk" or "triangle" in press.towards


def _everywhere(press: SetPress) -> bool:
    return bool(press)


def _thickness(layers: TopLayers) -> tuple[int, float]:
    """How many places lie above the limit, and how many square inches of them."""
    return len(layers.spots), round(sum(spot.area for spot in layers.spots), 4)


def _thick(pressed: PressedTop) -> Iterator[Finding]:
    """One finding for all places above the limit."""
    layers, settings = pressed.layers, pressed.settings
    if not layers.spots:
        return
    worst, count = layers.spots[0], len(layers.spots)
    by_count = worst.layers > settings.limit
    limit = f"{settings.limit} layers" if by_count else f"{settings.limit_mm:g} mm"
    places = "1 place" if count == 1 else f"{count} places"
    kind = TOO_MANY_LAYERS if by_count else TOO_THICK
    yield kind.found(
        f"{places} of the top lie above the limit of {limit}; the worst has {worst.layers} layers "
        f"({worst.mm:.2f} mm)",
        mend="see each block's own press plan (seamproof press), or set it with sashing; mark what "
        "stays for whoever quilts the top",
    )


def _settings(work: TopWork, used: Sequence[BlockWork]) -> PressSettings:
    settings = work.project.preferences.pressing
    return press_settings(used[0]) if used else replace(settings, seam=work.project.cutting().seam)


def _chosen(
    work: TopWork,
    used: Sequence[BlockWork],
    bench: Bench,
    by: Callable[[BlockWork, Plan], PressedWork],
    *,
    rows: bool,
) -> tuple[Pattern, Top, dict[str, Variant], tuple[int, int]]:
    """The first pattern of plans A and B that nests best, and the top with its variants."""
    by_name = {one.drawing.name: one for one in used}
    best = None
    for pattern in PATTERNS:
        top, variants = _varied(work, used, pattern, rows=rows)
        ends: dict[str, tuple[End, ...]] = {}
        for name, variant in variants.items():
            if variant.block in by_name:
                key = (variant.block, variant.plan)
                if key not in bench.ends:
                    bench.ends[key] = _ends(by(by_name[variant.block], variant.plan))
                ends[name] = bench.ends[key]
        good = nested(top, ends)
        if best is None or good[0] > best[3][0]:
            best = pattern, top, variants, good
        if best[3][0] == best[3][1]:
            break
    assert best is not None
    return best


def _varied(
    work: TopWork, used: Sequence[BlockWork], pattern: Pattern, *, rows: bool
) -> tuple[Top, dict[str, Variant]]:
    setting, blocks, variants = varied(
        work.setting, [available(one) for one in used], pattern, rows=rows
    )
    top, _ = set_top(setting, blocks, (), work.project.cutting(), measure=work.measure)
    assert top is not None
    return top, variants


def _ends(pressed: PressedWork) -> tuple[End, ...]:
    from seamproof.pressing.edge_ends import edge_ends

    if pressed.pressed is None or pressed.work.piecing is None:
        return ()
    ways = pressed.pressed.ways
    return tuple(End(*end) for end in edge_ends(pressed.work.piecing, ways))


def _kind(pressed: PressedWork) -> Kind:
    from seamproof.pressing.sheets import cloth_of

    work = pressed.work
    assert pressed.pressed is not None
    assert work.piecing is not None
    cloth = cloth_of(work.piecing, work.cutting, pressed.settings)
    return block_kind(cloth, pressed.pressed.ways)
