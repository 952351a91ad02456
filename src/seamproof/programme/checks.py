"""What the programme has to say, each kind once."""

from __future__ import annotations

from seamproof.findings import Kind

NOT_A_BLOCK = Kind(801, "error", "A release names a block that the quilt does not have")
GIVEN_TWICE = Kind(802, "error", "Something is released twice")
NOT_GIVEN = Kind(803, "error", "A block of the top is never released")
OUT_OF_ORDER = Kind(804, "error", "A release comes before the one it follows")
TOO_TIGHT = Kind(805, "warning", "A step begins before the one it waits for is done")
TOO_MUCH_NEW = Kind(806, "warning", "A release brings more than one new technique")
HARD_EARLY = Kind(807, "warning", "The hardest block comes in the first half")
RESERVE = Kind(808, "note", "A cloth of one dye lot is reserved before the first release")
CLOTH_SHORT = Kind(809, "error", "The cloth that is there does not make all kits")
BOLT_TOO_SHORT = Kind(810, "error", "A bolt is too short for one strip or one length")
NOT_IN_TOP = Kind(811, "note", "A released block does not lie in the top")
NO_PRICE = Kind(812, "note", "A cloth has no price, so the kit's costs lack it")
NO_EASY_ONE = Kind(816, "note", "A hard release has no easier block beside it")
OPEN_POINT = Kind(813, "error", "A tester found something that is not settled")
FORM_UNREAD = Kind(814, "error", "A tester's form cannot be read")
NOT_SEWN = Kind(815, "note", "Nobody has sewn this size or colourway")
