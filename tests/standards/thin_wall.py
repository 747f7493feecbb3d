# Writes thin_wall.csv: second moment and torsion constant of an 80 x 80 tube with its nominal
# and its thinnest wall, by finite elements. Needs the package sectionproperties (PyPI).
from importlib.metadata import version

from sectionproperties.analysis import Section
from sectionproperties.pre.library import rectangular_hollow_section

print(f"# sectionproperties {version('sectionproperties')}, warping analysis, corner arcs of 24 points")
print("wall_mm,i_mm4,it_mm4")
for wall in (3.0, 2.7):
    shape = rectangular_hollow_section(d=80, b=80, t=wall, r_out=2 * wall, n_r=24)
    section = Section(shape.create_mesh(mesh_sizes=[1.0]))
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    print(f"{wall},{section.get_ic()[0]:.1f},{section.get_j():.1f}")
