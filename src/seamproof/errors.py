"""Everything the program can refuse, in one tree.

    SeamproofError
    ├── InputError(ValueError)      a file or an argument cannot be understood; exit code 2
    │   ├── LengthError             a length is not written as a quilter writes one
    │   └── LimitError              more than the program promises to carry
    ├── SaveError(OSError)          a file could not be written; what was there is untouched
    ├── EffortError(RuntimeError)   a search used up its counted effort without an answer
    └── Stopped                     somebody asked the work to stop; exit code 130

What a quilter can draw wrongly is not an exception but a
:class:`~seamproof.findings.Finding`. Exceptions are for unusable input and for our own mistakes.
"""

from __future__ import annotations

from dataclasses import dataclass


class SeamproofError(Exception):
    """Root of every exception that this package raises on purpose."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a text file. Lines and columns count from 1; 0 means "the file as a whole"."""

    file: str | None = None
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        parts = [self.file or "input"]
        if self.line:
            parts += [str(self.line), str(self.column or 1)]
        return ":".join(parts)


class InputError(SeamproofError, ValueError):
    """Input that cannot be used, said in a quilter's words.

    `what` says what is wrong, `mend` what to do about it. `place` says where, as far as it is
    known; `source` is the line of the file it points into, shown with a caret by the terminal.

    >>> str(InputError("there is no size", mend="write, for example, finished: 12"))
    'there is no size; write, for example, finished: 12'
    >>> str(InputError("there is no size", place=Place("star.yaml", 2, 1)))
    'star.yaml:2:1: there is no size'
    """

    def __init__(
        self, what: str, *, mend: str = "", place: Place | None = None, source: str | None = None
    ) -> None:
        self.what = what
        self.mend = mend
        self.place = place or Place()
        self.source = source
        super().__init__(what)

    def __str__(self) -> str:
        text = f"{self.what}; {self.mend}" if self.mend else self.what
        return f"{self.place}: {text}" if self.place.file else text

    def located(self, place: Place, source: str | None = None) -> InputError:
        """The same refusal, told where it happened; the type is kept.

        >>> str(LengthError("1/0 is not a length").located(Place("star.yaml", 3, 11)))
        'star.yaml:3:11: 1/0 is not a length'
        """
        return type(self)(self.what, mend=self.mend, place=place, source=source or self.source)


class LengthError(InputError):
    """A length that nobody can cut: not a number, not positive where it must be, unknown unit."""


class LimitError(InputError):
    """Input larger than the limits the program states in one table."""


class SaveError(SeamproofError, OSError):
    """A file could not be written. The old file, if there was one, is as it was."""


class EffortError(SeamproofError, RuntimeError):
    """A search ended at its counted effort with nothing to show."""


class Stopped(SeamproofError):
    """The work was asked to stop and did, leaving nothing half-written."""
