"""One strip-packing problem solved by packingsolver, in an interpreter of its own.

Reads from standard input: a code such as 2NHO (stages, trims allowed, first cuts across, pieces
oriented or R for turned), seconds, width, and one line `width height copies` per piece. Prints the
length it reaches. Without input it prints the package's version.
"""

import sys
from importlib.metadata import version


def main() -> None:
    # Not at the top: the tests read every module, and this package lives in another interpreter.
    import packingsolver.rectangleguillotine as solver  # type: ignore[import-not-found]
    from packingsolver import Objective

    words = sys.stdin.read().split()
    if not words:
        print(version("packingsolver"))
        return
    code, seconds, width = words[0], float(words[1]), int(words[2])
    numbers = [int(word) for word in words[3:]]
    pieces = list(zip(numbers[::3], numbers[1::3], numbers[2::3], strict=True))
    builder = solver.InstanceBuilder()
    builder.set_objective(Objective.OpenDimensionY)
    builder.add_bin_type(width, sum(max(w, h) * n for w, h, n in pieces), copies=1)
    for w, h, copies in pieces:
        builder.add_item_type(w, h, copies=copies, oriented=code[-1] == "O")
    builder.set_predefined(code)
    parameters = solver.OptimizeParameters()
    parameters.time_limit = seconds
    parameters.verbosity_level = 0
    print(solver.optimize(builder.build(), parameters).solution.height())


if __name__ == "__main__":
    main()
