"""The terminal: a thin shell over the answers.

Data goes to standard output, talk to standard error; progress shows only in a terminal. `commands`
are what can be asked, `showing` how an answer looks, `telling` how errors and notes do, `starting`
what happens before and after.
"""

from seamproof.cli.starting import main

__all__ = ["main"]
