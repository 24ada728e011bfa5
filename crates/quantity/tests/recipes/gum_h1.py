"""Annex H.1 of JCGM 100:2008, worked with GTC 1.5.1 (pip install GTC==1.5.1).

Made the unrounded numbers of the row D9-01 in outside_references.rs.
"""

from GTC import reporting, type_b, uncertainty, dof, ureal
from GTC.function import mul2

LENGTH_OF_STANDARD = 50.000623e6  # nanometres

difference = ureal(215, 5.8, 24) + ureal(0, 3.9, 5) + ureal(0, 6.7, 8)
expansion = ureal(11.5e-6, type_b.uniform(2e-6))
expansion_difference = ureal(0, type_b.uniform(1e-6), 50)
temperature = ureal(-0.1, 0.2) + ureal(0, type_b.arcsine(0.5))
temperature_difference = ureal(0, type_b.uniform(0.05), 2)
standard = ureal(LENGTH_OF_STANDARD, 25, 18)

first_order = standard + difference - standard * (
    expansion_difference * temperature + expansion * temperature_difference
)
second_order = standard + difference - standard * (
    mul2(expansion_difference, temperature) + mul2(expansion, temperature_difference)
)

print("u(d)", uncertainty(difference), "degrees of freedom", dof(difference))
print("u(theta)", uncertainty(temperature))
print("u_c", uncertainty(first_order), "degrees of freedom", dof(first_order))
print("t99(16)", reporting.k_factor(16, 99))
print("U99", reporting.k_factor(16, 99) * uncertainty(first_order))
print("u_c with second order", uncertainty(second_order))
