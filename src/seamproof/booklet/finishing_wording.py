"""Sentences about setting the blocks together, borders, backing, binding, and the hand-over to a
longarm quilter.

The tests hold these sentences to the words that are not printed.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.booklet.wording import count_word, counted, extent
from seamproof.cloth.buying import Buying
from seamproof.length.notation import Measure, with_unit
from seamproof.setting.model import Backing, Binding, BorderMade, Panels

SETTING = "Setting the blocks together"
BORDERS = "Borders"
FINISHING = "Backing, batting and binding"
HAND_OVER = "For the longarm quilter"
LAYOUT = "The top from the front, each place with its block."
ORDER = "Order of sewing"
ORDER_LEAD = "What stands in one round can be chain pieced."
TO_CUT = "To cut besides the blocks"
TO_CUT_LEAD = (
    "Measure the blocks first, and square up those that may be trimmed. If all are off alike, "
    "change these."
)
PRESS_TOP = (
    "Press every seam towards the sashing or the plain strip: then rows and columns nest. Between "
    "two pieced blocks press open."
)
PRESS_AS_TOLD = (
    "Press each seam before the next one is sewn, to the side that the table and the arrows tell."
)
APART = (
    "The top apart in its order of sewing: what lies closest is sewn first. Numbers are those of "
    "the steps."
)
APART_PRESSED = f"{APART} An arrow points the way the allowances go; two, to either side: open."
COPING = "Frames for the smaller blocks"
COPING_LEAD = "Sew the two strips at the sides first, press outwards, then those above and below."

MEASURE_THREE = (
    "Measure the top from edge to edge at three places, left, in the middle and right, and take "
    "the mean of the three: never cut a border by the printed size alone."
)
PIN_QUARTERS = (
    "Mark quarters on strip and top, pin mark to mark, and ease in what is between. Press towards "
    "the border."
)
BATTING = "Batting is cut with the same margin all round; let it lie flat over night."
BACKING_PRESS = "Cut the woven edges off, sew the lengths together, and press these seams open."
_BAND = (
    "Sew the strips together on the slant, trim these seams and press them open. Fold the band in "
    "half along its length, wrong sides together, and press."
)
_BEGIN = (
    "Begin in the middle of a side. Lay the raw edges of the band on the raw edge of the quilt, "
    "leave a hand's length loose, and sew to one seam allowance from the corner."
)
_CORNER = (
    "Fold the band up and away, then down along the next side with the fold at the upper edge. "
    "Sew on from that edge, and do the same at every corner."
)
_END = (
    "Sew the two ends together on the slant, then what is left open. Fold the band over to the "
    "back, and sew it down by hand or from the front."
)
BINDING_STEPS = (_BAND, _BEGIN, _CORNER, _END)
"""How a double band is sewn on, from the first seam to the last stitch."""


def piece_name(name: str, count: int) -> str:
    """What pieces of a top are called in a table.

    >>> piece_name("sash", 2), piece_name("cornerstone", 1), piece_name("coping", 4)
    ('sashes', 'cornerstone', 'coping strips')
    """
    name = "coping strip" if name == "coping" else name
    if count == 1:
        return name
    return f"{name}es" if name.endswith("sh") else f"{name}s"


def backing_ways(backing: Backing, buying: Buying, measure: Measure) -> str:
    """Both ways to make the backing, and what they cost."""
    size = extent((backing.width, backing.height), measure)

    def way(panels: Panels, seams: str) -> str:
        lengths = counted(panels.count, "length", "lengths")
        long = with_unit(panels.length, measure)
        return f"{buying.told(panels.buy)} with its seams {seams} ({lengths} of {long})"

    return (
        f"The backing is {size}: {way(backing.across, 'across')}, or "
        f"{way(backing.lengthwise, 'lengthwise')}."
    )


def backing_said(backing: Backing, measure: Measure) -> str:
    """How the backing is made."""
    return (
        f"The backing reaches {with_unit(backing.margin, measure)} beyond the top on every side. "
        f"Its seams are {with_unit(backing.seam, measure)} wide."
    )


def binding_said(binding: Binding, measure: Measure) -> str:
    """What the binding is cut from."""
    width, long = with_unit(binding.width, measure), with_unit(binding.length, measure)
    extra = with_unit(binding.length - binding.round, measure)
    if binding.square is None:
        name = "strip" if binding.strips == 1 else "strips"
        told = f"{count_word(binding.strips).capitalize()} {name} across the cloth, {width} wide,"
        return (
            f"{told} sewn together to {long}: once round, and {extra} for slanted seams and ends."
        )
    return (
        f"A bias band {width} wide from a square of {with_unit(binding.square, measure)}; {long} "
        f"are needed, {extra} of it for slanted seams and ends."
    )


def border_title(number: int, count: int, border: BorderMade) -> str:
    """The title of one border."""
    kind = {
        "butted": "butted corners",
        "mitred": "mitred corners",
        "squares": "corner squares",
        "pieced": "pieced",
    }[border.kind]
    return f"Border, {kind}" if count == 1 else f"Border {number}, {kind}"


def border_size(outer: Sequence[Fraction], measure: Measure) -> str:
    """The size with a border on."""
    return f"With it the top measures {extent(outer, measure)} finished."


def border_steps(border: BorderMade, seam: Fraction, measure: Measure) -> tuple[str, ...]:
    """How one border is measured, cut and sewn."""
    sides, ends = with_unit(border.sides.ruler, measure), with_unit(border.ends.ruler, measure)
    steps = []
    if border.spacer is not None:
        widths = (border.spacer.beside, border.spacer.above)
        told = [
            f"{with_unit(width + 2 * seam, measure)} wide for {where}"
            for width, where in zip(widths, ("the sides", "above and below"), strict=True)
            if width
        ]
        round_ = "a plain strip all round" if all(widths) else "plain strips on two sides"
        steps.append(f"First {round_}, so that the units fit: cut {', '.join(told)}.")
    if border.along is not None:
        steps.append(
            f"Sew {count_word(border.along[0])} units to a row for each side and "
            f"{count_word(border.along[1])} for above and below; pin at every fourth unit."
        )
        return tuple(steps)
    how = (
        "in one piece along the cloth" if border.lengthwise else "across the cloth, sewn end to end"
    )
    steps.append(MEASURE_THREE)
    wide = with_unit(border.width + 2 * seam, measure)
    steps.append(f"Cut the strips {wide} wide, {how}.")
    if border.kind == "mitred":
        steps.append(
            f"Mark the mean on both side strips, as much over at either end: {sides} altogether. "
            f"The same from side to side for those above and below: {ends} altogether."
        )
        steps.append(
            "Sew between the marks, stop one seam allowance before the corner, and close "
            "the mitres last, from the inner corner outwards."
        )
        return tuple(steps)
    steps.append(f"Cut both side strips to the mean: it should be {sides}. {PIN_QUARTERS}")
    if border.kind == "squares":
        steps.append(
            f"Cut those above and below to the mean from side to side, before the side strips are "
            f"on: it should be {ends}. Sew a corner square to either end, then sew them on."
        )
    else:
        steps.append(
            f"Then measure from side to side the same way, and cut those above and below: it "
            f"should be {ends}. {PIN_QUARTERS}"
        )
    return tuple(steps)


def sew_pair(first: str, second: str, gives: str, times: int) -> str:
    """One step of setting the top together.

    >>> sew_pair("sash F 2 1/2 × 12 1/2", "Dinghy", "Dinghy and a strip", 2)
    'Sew sash F 2 1/2 × 12 1/2 to Dinghy: it gives Dinghy and a strip. Do this twice.'
    """
    again = {1: "", 2: " Do this twice."}.get(times, f" Do this {count_word(times)} times.")
    return f"Sew {first} to {second}: it gives {gives}.{again}"


def quilter_lines(
    backing: Backing, batting: str, *, pieced_edge: bool, area: str, measure: Measure
) -> tuple[str, ...]:
    """What the quilter needs to know."""
    width, height = with_unit(backing.width, measure), with_unit(backing.height, measure)
    edge = (
        f"Seams run into the outer edge: staystitch it {_stay(measure)} inside the raw edge."
        if pieced_edge
        else "One plain strip lies on every side of the outer edge."
    )
    loaded = (
        f"Loaded by its top edge, the backing takes {width} along the roller; loaded by a side "
        f"{height}. Seams that lie level with the roller do not pile up on it."
    )
    margin = with_unit(backing.margin, measure)
    return (
        loaded,
        f"Backing and batting stick out {margin} all round; the batting is {batting}.",
        edge,
        READY,
        "A safety pin marks the top edge.",
        f"The top is {area} in all.",
    )


def _stay(measure: Measure) -> str:
    return "1/8 in" if measure == "in" else "3 mm"


READY = (
    "The top is pressed front and back, its threads are clipped, nothing is sewn on it, and all "
    "seams are closed."
)
PINNED = "The layer map of each block shows where it is thickest: go slowly there."

THICK = "Thick spots"
DITCHES = "Where the ditch lies"
DITCHES_LEAD = "The ditch is the low side of a seam, where no allowances lie. Seams of the setting:"
NO_DITCH = "none: they lie open, so do not stitch in the ditch"


def thick_lead(count: int, limit: int) -> str:
    """How many places lie above the limit."""
    places = "1 place lies" if count == 1 else f"{count} places lie"
    return (
        f"{places} in more than {limit} layers: go slowly there. Places are measured on the "
        "finished top, its right side up."
    )


def nothing_thick(limit: int) -> str:
    """That no place lies above the limit."""
    return f"No place lies in more than {limit} layers. This is the thickest."
