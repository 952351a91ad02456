"""Lengths as a quilter writes, cuts and reads them. Always inches, always exact fractions."""
