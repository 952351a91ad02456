"""The only place where the stages are chained, and where their results are remembered.

`model` says what comes out of it, `memory` what was worked out before, `working` is the chain.
"""
