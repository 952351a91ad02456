"""How the pieces lie on the cloth: strips, cross-cuts, and how much cloth that takes."""
