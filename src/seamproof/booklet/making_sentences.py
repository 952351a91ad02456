"""Sentences about how units and blocks are made that a teacher can replace, with the rest in
`sentence_list`."""

from __future__ import annotations

from collections.abc import Mapping

OF_MAKING: Mapping[str, str] = {
    "told-once": "Each way to make a unit is told once.",
    "of-an-example": (
        "Sizes and letters here are those of an example: the pieces, sizes and counts of your "
        "unit, and how it is pressed, stand with its block."
    ),
    "example": "The example is {unit} of {block}.",
    "signs": "They stand on the seams in the pictures of units and blocks.",
    "sign-open": "Press the seam open.",
    "sign-side": "Press both allowances the way the arrow points.",
    "sign-spin": "Spin: lay the allowances round the crossing, as the hook turns.",
    "by-method": "Make as in method {number}, with these pieces and sizes.",
    "fabrics": "Fabrics {letters}.",
    "round-makes": "One round makes {count}.",
    "left-over": "{count} will be left over.",
    "unit-made-from": "Unit {unit}: make {count} from {pieces}.",
    "names-of-first": (
        "The steps name the pieces of unit {unit}; make the others in the same way."
    ),
    "bonus": (
        "What is cut off makes {count} half-square triangles of {size} besides, if you sew once "
        "more {gap} outside the stitching and cut between the two seams."
    ),
    "twin-unit": (
        "Unit {unit} is of the other hand: lay, sew and trim it as you would see this in a mirror."
    ),
    "lay": "Lay {pieces} on {under}, right sides together.",
    "draw-diagonal": "Draw the diagonal on the wrong side.",
    "draw-diagonal-each": "Draw the diagonal on the wrong side of each.",
    "draw-across": "Draw the diagonal that crosses the seam on the wrong side.",
    "as-before-drawn": "Draw, sew, cut and press as in step {step}.",
    "as-before": "Match, sew and press as in step {step}.",
    "sew-both-sides": "Sew {seam} from it on both sides.",
    "sew-on-line": "Sew on the line.",
    "sew-on-lines": "Sew on the lines.",
    "cut-on-line": "Cut apart on the line.",
    "cut-off-corner": "Cut off the corner {seam} outside the stitching.",
    "cut-off-corners": "Cut off the corners {seam} outside the stitching.",
    "slide-tips": "Slide them until the sharp tip of each sticks out {length} beyond the other.",
    "tips-alike": "The tips stick out as far at either end.",
    "trim-tips": "Trim off the tips that stick out, along the edge.",
    "set-and-press": "Press the seam as sewn, then open {what} and press {way}.",
    "set-and-press-open": "Press the seam as sewn, then open {what} and press the seam open.",
    "open-and-press": "Open and press {way}.",
    "open-and-press-plain": "Open and press.",
    "press-open": "Press it open.",
    "press-open-plain": "Press open.",
    "press-towards": "Press towards {side}.",
    "press-as-shown": "Press as the arrow shows.",
    "press-as-arrows-show": "Press as the arrows show.",
    "press-as-signs-show": "Press as the signs show.",
    "spin": "Spin the crossing: from the back its allowances turn {turn}.",
    "trim-to": "Trim to {size}.",
    "ruler-on-diagonal": "Lay the ruler's diagonal line on the seam.",
    "ruler-on-crossing": (
        "Lay the ruler's diagonal line on one seam and its {across} and {down} lines over the "
        "crossing."
    ),
    "ruler-in-corners": (
        "Turn the ruler until the seam runs through the points {seam} inside two opposite "
        "corners, not into these corners."
    ),
    "trim-two-sides": "Trim two sides, turn, trim the other two.",
    "beyond-point": "Leave {seam} beyond the point.",
    "beyond-points": "Leave {seam} beyond each of the four points.",
    "trim-all-sides": "Trim all sides.",
    "nothing-trimmed": "The {unit} is as it should be: nothing is trimmed.",
    "match-edges": "Match the {edges} as shown and sew {seam} from them.",
    "square-up": "Square up one end of {strips}.",
    "slices": "From there cut {count} slices, {width} wide each.",
    "it-measures": "It should measure {size}.",
    "each-measures": "Each should measure {size}.",
    "block-measures": "The block should measure {size}.",
    "face-each-other": "Sew the edges that face each other, right sides together.",
    "chain-pieced": "Steps of one set can be chain pieced.",
    "dots-shown": "Where dots are marked, the pictures show the seam allowance too.",
    "set": "Set {number} at the machine.",
    "sew-to": "Sew {first} to {second}.",
    "sew-two": "Sew two of {pieces} to each other.",
    "make": "Make {count}.",
    "mark-dot": "Mark a dot at the corner, {seam} from both edges, on both pieces.",
    "mark-dots": "Mark dots at the corners, {seam} from both edges, on both pieces.",
    "run-to-edge": "Turn, match the next edges and sew run {run} from the dot to the edge.",
    "run-to-dot": "Turn, match the next edges and sew run {run} from dot to dot; needle down.",
    "last-run": "Turn again and sew run {run} from the dot to the edge.",
    "stop-at-cross": (
        "Stop at the cross, {length} past the last crossing; take two stitches back."
    ),
    "stays-open": "The rest stays open until step {step}.",
    "fold-loose-end": "Fold the loose end of the open seam out of the way.",
    "finish-seam": "Finish the seam that was begun in step {step}.",
    "layout": "Lay everything out in this order before you sew it together.",
    "layout-bar": (
        "The bar marks the edge of a unit that lies uppermost in the picture beside its title."
    ),
    "twins": "{units} are mirror twins: they look alike and are not.",
    "check-twins": "Check each against the picture.",
    "for-one-block": "For one block.",
    "templates": ("At true size, seam allowance included: check the rule at the foot of the page."),
    "templates-side": "Lay them on the right side of the cloth.",
    "template-too-large": "Larger than the page: draw it on paper of its size.",
    "blocks-alike": "For {count} blocks alike.",
    "what-measures": "{what} should measure {size}.",
    "made-from": "{what}: make {count} from {pieces}.",
    "names-of": "The steps name the pieces of {units}; make the others in the same way.",
    "pictures-of": "The pictures show {units}; make the others in the same way.",
    "twin-units": (
        "{units} of the other hand: lay, sew and trim {them} as you would see this in a mirror."
    ),
    "bonus-any": (
        "What is cut off makes {what} of {size} besides, if you sew once more {gap} outside the "
        "stitching and cut between the two seams."
    ),
    "draw-both": "Draw both diagonals on the wrong side.",
    "draw-as-shown": "Draw the line as shown.",
    "draw-lines-as-shown": "Draw the lines as shown.",
    "draw-from-corners": "Draw a line at 45° from each of two opposite corners, as shown.",
    "opposite-ends": "Turn one end for end: the squares lie at opposite ends.",
    "lie-crosswise": (
        "Turn it until its diagonal lies on the diagonal beneath, corner on corner: the rest "
        "lies crosswise."
    ),
    "sew-beside": "Sew {seam} from {line}.",
    "sew-all-round": "Sew {seam} from the edge, all round.",
    "sew-as-shown": "Sew as shown.",
    "as-in-step": "{how} as in step {step}.",
    "cut-in-eight": (
        "Without moving it, cut across the middle both ways, {length} from the edge, then on "
        "both lines."
    ),
    "cut-halfway": "Cut apart halfway between them.",
    "cut-on-diagonals": "Cut apart on both diagonals.",
    "cut-off": "Cut off the {corners} {seam} outside the stitching.",
    "cut-apart-as-shown": "Cut apart as shown.",
    "cut-into": "Cut as shown, into {pieces}.",
    "cut-as-shown": "Cut as shown.",
    "fold-over": "Fold {what} stitching to the corner, and press.",
    "leave-in": "Leave in what is behind.",
    "cut-from-there": "From there {cut}.",
    "cut-aslant": (
        "Lay the ruler's {angle} line on a seam and cut one end of {strips} aslant, as shown."
    ),
    "look-again": "From there {cut}; look at the {angle} line again before every cut.",
    "edges-stretch": "The new edges stretch: lift them, do not pull.",
    "step-on": "Let it begin {length} farther along, as shown.",
    "across-measures": "Across the strips it should measure {size}.",
    "ruler-alike": "Lay the ruler so that as much comes off on either side.",
    "all-give": "All of them give {count}.",
    "to-spare": "{made}, {count} of them to spare.",
    "clip": "Clip the inner corner to just short of the dot.",
    "first-run": "Sew run 1 {way}; leave the needle down.",
    "any-run": "{turn} sew run {run} {way}.",
    "stop-at": "Stop at the cross, {where}; take two stitches back.",
    "open-until": "The rest stays open until {step}.",
    "finish-begun": "Finish the seam that was begun in {step}.",
    "still-open": "Sew the seam that is still open.",
    "sew-over": "Sew {way}, over the last stitches of the first part.",
    "set-and": "Press the seam as sewn, then open {what} and {how}.",
}
"""How units and blocks are made."""
