"""Pure sums: standard library only; millimetres, degrees, counts, Fractions."""
