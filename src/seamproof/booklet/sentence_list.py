"""Every sentence of the booklet that a teacher can replace: its name and how it reads by default.

Titles, headings of tables, names, sizes in tables and what the checks say of a block are no
sentences of the booklet: they are data, or come from elsewhere in the same words.
"""

from __future__ import annotations

from collections.abc import Mapping

OF_THE_FRONT: Mapping[str, str] = {
    "above-title": "A pieced quilt of {count} blocks.",
    "proved-on-cover": (
        "Every size in this booklet was added up again, patch to top, before it was printed."
    ),
    "not-sewn": "Proved by calculation, not sewn.",
    "proved": "Every size was added up again from the cut cloth, and comes out.",
    "corrections-asked": (
        "Ask whoever gave you this booklet whether there are corrections, before you cut."
    ),
    "found-wrong": "Found something wrong?",
    "report": (
        "Write: the version, the page, the piece or step, what the booklet says, and what you "
        "measured."
    ),
    "calendar": "The quilt goes out in {count} releases.",
    "read-first": "Read everything once before you cut.",
    "test-block": "Then cut and sew one block, measure it, and only then cut the rest.",
    "seam-width": "Seams are {seam} wide.",
    "scant": "Sew them scant, a thread narrower: the fold of the cloth takes up the rest.",
    "right-sides": "Everything is sewn right sides together.",
    "try-seam": "Try your seam: sew two squares of {side} together and press.",
    "seam-is-right": "If it is right: they must measure {width} across.",
    "allowances-included": "Sizes to cut include the seam allowances.",
    "width-by-height": (
        "They are given as width × length; what is sewn is measured as width × height, as it lies "
        "in its picture."
    ),
    "usable-width": "Amounts are for cloth with a usable width of {width}.",
    "letters-mean": (
        "A capital letter is a fabric; a capital and a small letter are one kind of piece of it."
    ),
    "letters-in-pictures": "The letters in the pictures are the same.",
    "hatch": (
        "Every fabric has a hatch of its own besides its colour, so that the pictures can be "
        "read in grey."
    ),
    "blade": "Close the blade each time you lay it down.",
    "away": "Cut away from the body.",
    "other-hand": "Keep the other hand flat on the ruler, fingers behind the edge.",
    "iron": (
        "Iron and steam burn: keep fingers clear of both, and stand the iron up whenever you "
        "let go of it."
    ),
    "pins-out": "Take pins out before the needle or the iron reaches them.",
    "needle": (
        "Take your foot off the pedal before your fingers go near the needle, and sew no pin over."
    ),
    "sprays": (
        "Use starch and basting sprays in fresh air, away from flames and the hot iron, and let "
        "the cloth dry."
    ),
    "cutter-tool": "A rotary cutter and a mat.",
    "square-ruler": (
        "A square ruler with a line from corner to corner: units are trimmed to {smallest} to "
        "{largest}, blocks measure up to {block}."
    ),
    "long-ruler": (
        "A long ruler that is at least {width} wide, or two side by side, for the strips."
    ),
    "ruler-marks": "Rulers with marks every {step}; use one make throughout.",
    "marker": "A pencil or pen that washes out, for lines on the wrong side of the cloth.",
    "usual-tools": (
        "Pins, an iron and a board, thread, and a machine that sews a straight stitch."
    ),
    "amounts": (
        "Amounts hold what is lost in straightening the ends, and are rounded up as shops cut."
    ),
    "spare-cut": "Where a second amount stands, it holds one spare cut of the highest strip.",
    "snippets": (
        "Glue a snippet of your own cloth beside each letter: then you can change colours."
    ),
    "outline": "The top without its cloth.",
    "copy-first": "Copy this page before you colour it.",
    "report-to": (
        "Write to {whom}: the version, the page, the piece or step, what the booklet says, and "
        "what you measured."
    ),
    "not-all-proved": "Not every size comes out yet: see the notes.",
    "square-ruler-plain": "A square ruler that reaches over {block}, to square up the blocks.",
    "square-ruler-one": (
        "A square ruler with a line from corner to corner: units are trimmed to {size}, blocks "
        "measure up to {block}."
    ),
    "template-tool": "Firm paper or plastic for templates.",
    "corrections": "Corrections: {where}.",
    "corrections-when": "Look there before you cut, and again before you bind.",
}
"""Cover, what holds for the whole quilt, tools, materials."""

OF_THE_CLOTH: Mapping[str, str] = {
    "straighten": (
        "Straighten the end of each cloth, then work down the list: the longest come first."
    ),
    "whole-at-once": "The whole quilt at once.",
    "block-by-block": "Whoever goes block by block uses the list in each block.",
    "begins-at": "Cutting starts at the {end} end of each diagram.",
    "marks-of-diagrams": "The marks in these diagrams belong to this list alone.",
    "tag-pieces": (
        "Under which letter a piece stands in its block is said beside it: tag the pieces with "
        "that."
    ),
    "stacking": (
        "Up to four layers of squares and short pieces are cut at once, two of long strips; "
        "slanted cuts one layer at a time, for their edges stretch."
    ),
    "buy": "Buy {amount}; the diagram takes {length}.",
    "strip-cut-once": (
        "A strip is cut once, with the first release that needs it; what it gives for later is "
        "saved."
    ),
    "bag": "Put what you save into a bag of its own and write the release on it.",
    "small-letters": "Small letters are those of the cutting diagrams, cloth by cloth.",
    "take": "Take from release {release}.",
    "save": "Save for release {release}.",
    "not-turned-over": (
        "Not turned over, since slanted pieces would change hands: cutting starts at its left end."
    ),
    "lengths-alike": "Cut {count} lengths like this.",
    "nothing-saved": "Nothing is saved for this release, and nothing in it for later.",
}
"""Cutting, and what is saved from release to release."""

OF_THE_BACK: Mapping[str, str] = {
    "layers": "{count} layers of cloth at the thickest place.",
    "back-shown": "The back, as it lies when it is pressed.",
    "thickest-shown": (
        "The thickest place, from the front: {side} across, with the layers counted."
    ),
    "thickest-at": "It is {across} from the left and {down} from the top, seen from the front.",
    "thickest-above": "It is {across} from the left and on the upper edge, seen from the front.",
    "thickest-beside": "It is on the left edge and {down} from the top, seen from the front.",
    "one-crossing": "The one crossing nests.",
    "crossings-left": (
        "{count} of {all} crossings do not nest: pin them on both sides of the seams that meet."
    ),
    "darker-behind": "Darker cloth lies behind lighter in places.",
    "reason-layers": (
        "{what}: {way}, so that {count} layers lie there instead of {more}; the usual way is "
        "{usual}."
    ),
    "reason-points": (
        "{what}: {way}, because {points} points meet here: {count} layers instead of {more}; "
        "the usual way is {usual}."
    ),
    "reason-thick": (
        "{what}: {way}, so that less of the block is thick; the usual way is {usual}."
    ),
    "reason-dark": (
        "{what}: {way}, so that dark cloth does not lie behind light; the usual way is {usual}."
    ),
    "reason-flat": "{what}: {way}, so that the crossing lies flat; the usual way is {usual}.",
    "seams-across": "{count} seams lie across.",
    "each-too-wide": "If all are alike, {off} is {share} a seam: {side} too wide on each side.",
    "each-too-narrow": (
        "If all are alike, {off} is {share} a seam: {side} too narrow on each side."
    ),
    "by-the-row": "(They are between {least} and {most}, by the row.)",
    "more-than-a-seam": (
        "This is more than a seam does: a piece of another size, two piles mixed, a seam too few "
        "or too many, or a ruler misread."
    ),
    "come-together": (
        "Cuts and seams vary a little, and it may have come together in this direction."
    ),
    "use-as-it-is": (
        "Use it as it is: where it meets its neighbours sew {length} nearer to its raw edge, "
        "and pin its middle and ends to theirs."
    ),
    "trim-all-round": "Trim it all round: {length} off each side, measured from the middle.",
    "trim-safely": "Close the blade each time you lay it down, and cut away from the body.",
    "do-not-trim": "Do not trim it: that would take {length} off the points on its outside.",
    "help-for-all": "This holds for every block; what is its own stands with the block.",
    "iron-in-help": (
        "Iron and steam burn: keep fingers clear, and stand the iron up whenever you let go of it."
    ),
    "press-again": (
        "Press it again before anything else: set each seam closed, open it, press without "
        "pushing, let it cool, and measure."
    ),
    "try-two-squares": "Sew two {side} squares together and press: they must be {width} across.",
    "seam-right-else": "If they are, the seam is right, and it is something else.",
    "count-against": (
        "Hold the block against the picture and count; then measure every patch from seam to "
        "seam and compare it with the cutting list."
    ),
    "lay-flat": "Lay the block flat without pulling it, and measure again in three places.",
    "measure-rows": "Lay a ruler across each row and measure every patch from seam to seam.",
    "unlike-patch": "The patch that differs from its like has the fault beside it.",
    "not-one-seam": "If all are alike, it is not one seam.",
    "turned-compare": (
        "Lay the block beside its picture and compare unit by unit, with the layout card."
    ),
    "turned-unpick": (
        "Unpick only the seams round the unit that is wrong, turn it, and sew them again."
    ),
    "turned-next": "Next time: lay everything out, take a photograph, and sew from that.",
    "all-usual": "Every seam is pressed as is usual.",
    "crossings-all": "All {count} crossings nest.",
}
"""The back of a block, and help."""

OF_THE_TOP: Mapping[str, str] = {
    "top-shown": "The top from the front, each place with its block.",
    "square-up-blocks": ("Measure the blocks first, and square up those that may be trimmed."),
    "off-alike": "If all are off alike, change these.",
    "frames": (
        "Sew the two strips at the sides first, press outwards, then those above and below."
    ),
    "one-round": "What stands in one round can be chain pieced.",
    "press-top": (
        "Press every seam towards the sashing or the plain strip: then rows and columns nest."
    ),
    "press-each": (
        "Press each seam before the next one is sewn, to the side that the table and the arrows "
        "tell."
    ),
    "apart": "The top apart in its order of sewing: what lies closest is sewn first.",
    "numbers-of-steps": "Numbers are those of the steps.",
    "arrows": "An arrow points the way the allowances go; two, to either side: open.",
    "press-between": "Between two pieced blocks press open.",
    "measure-three": (
        "Measure the top from edge to edge at three places, left, in the middle and right, and "
        "take the mean of the three: never cut a border by the printed size alone."
    ),
    "backing": (
        "The backing is {size}: {across} with its seams across ({cut}), or {along} with its "
        "seams lengthwise ({lengths})."
    ),
    "backing-margin": "The backing reaches {margin} beyond the top on every side.",
    "backing-seams": "Its seams are {seam} wide.",
    "backing-press": (
        "Cut the woven edges off, sew the lengths together, and press these seams open."
    ),
    "batting": "Batting: {size}.",
    "batting-rest": "Batting is cut with the same margin all round; let it lie flat over night.",
    "binding": (
        "{count} strips across the cloth, {width} wide, sewn together to {length}: once round, "
        "and {extra} for slanted seams and ends."
    ),
    "binding-join": ("Sew the strips together on the slant, trim these seams and press them open."),
    "binding-fold": "Fold the band in half along its length, wrong sides together, and press.",
    "binding-begin": "Begin in the middle of a side.",
    "binding-sew": (
        "Lay the raw edges of the band on the raw edge of the quilt, leave a hand's length "
        "loose, and sew to one seam allowance from the corner."
    ),
    "binding-corner": (
        "Fold the band up and away, then down along the next side with the fold at the upper edge."
    ),
    "binding-go-on": "Sew on from that edge, and do the same at every corner.",
    "binding-ends": "Sew the two ends together on the slant, then what is left open.",
    "binding-back": "Fold the band over to the back, and sew it down by hand or from the front.",
    "roller": (
        "Loaded by its top edge, the backing takes {top} along the roller; loaded by a side {side}."
    ),
    "level-seams": "Seams that lie level with the roller do not pile up on it.",
    "sticks-out": "Backing and batting stick out {margin} all round; the batting is {size}.",
    "staystitch": "Seams run into the outer edge: staystitch it {length} inside the raw edge.",
    "top-is-ready": (
        "The top is pressed front and back, its threads are clipped, nothing is sewn on it, and "
        "all seams are closed."
    ),
    "top-edge": "A safety pin marks the top edge.",
    "top-area": "The top is {area} in all.",
    "go-slowly": "The layer map of each block shows where it is thickest: go slowly there.",
    "mark-quarters": (
        "Mark quarters on strip and top, pin mark to mark, and ease in what is between."
    ),
    "ditch": "The ditch is the low side of a seam, where no allowances lie.",
    "backing-one": "The backing is {size}: {across}, or {along}.",
    "bias-band": (
        "A bias band {width} wide from a square of {side}; {length} are needed, {extra} of it "
        "for slanted seams and ends."
    ),
    "binding-any": (
        "{strips} sewn together to {length}: once round, and {extra} for slanted seams and ends."
    ),
    "top-then": "With it the top measures {size} finished.",
    "thick-places": "{share} in more than {layers} layers: go slowly there.",
    "places-measured": "Places are measured on the finished top, its right side up.",
    "no-thick-place": "No place lies in more than {layers} layers.",
    "this-thickest": "This is the thickest.",
    "cut-border": "Cut the strips {width} wide, {length}.",
    "times": "Do this {count} times.",
    "twice": "Do this twice.",
    "plain-edge": "One plain strip lies on every side of the outer edge.",
    "plain-strips": "First {strips}, so that the units fit: cut {widths}.",
    "border-units": (
        "Sew {beside} units to a row for each side and {above} for above and below; pin at every "
        "fourth unit."
    ),
    "mark-mean": (
        "Mark the mean on both side strips, as much over at either end: {length} altogether."
    ),
    "mark-others": "The same from side to side for those above and below: {length} altogether.",
    "mitre": (
        "Sew between the marks, stop one seam allowance before the corner, and close the mitres "
        "last, from the inner corner outwards."
    ),
    "cut-above-first": (
        "Cut those above and below to the mean from side to side, before the side strips are "
        "on: it should be {length}."
    ),
    "sleeve": "A hanging sleeve is {length} long, hemmed.",
}
"""The top, and what finishes it."""
