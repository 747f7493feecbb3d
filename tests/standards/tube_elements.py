"""Writes tube_elements.csv: section properties of hollow sections by finite elements, with the
corner radii for calculation of EN 10219-2, Annex B, on either side of its steps at 6 and 10 mm."""
from importlib.metadata import version

from sectionproperties.analysis import Section
from sectionproperties.pre.library import rectangular_hollow_section

SIZES = (
    (40, 40, 2), (40, 40, 3), (50, 50, 2), (50, 50, 3), (60, 60, 3), (60, 60, 4), (80, 80, 3),
    (80, 80, 4), (80, 80, 5), (100, 100, 3), (100, 100, 4), (100, 100, 5), (120, 120, 4),
    (120, 120, 5), (150, 150, 6), (150, 150, 8), (200, 200, 10), (250, 250, 12), (80, 40, 2),
    (80, 40, 3), (80, 40, 4), (100, 50, 3), (100, 50, 4), (120, 60, 4), (120, 80, 4),
    (150, 100, 4), (150, 100, 5), (200, 100, 6), (200, 100, 8), (300, 200, 12),
)


def outer_radius(wall):
    return wall * (2 if wall <= 6 else 2.5 if wall <= 10 else 3)


print(f"# sectionproperties {version('sectionproperties')}, warping analysis, corner arcs of 24 points,")
print("# mesh of a tenth of the squared wall; six significant digits.")
print("section,height_mm,width_mm,wall_mm,area_mm2,iy_mm4,iz_mm4,wel_y_mm3,it_mm4")
for height, width, wall in SIZES:
    shape = rectangular_hollow_section(d=height, b=width, t=wall, r_out=outer_radius(wall), n_r=24)
    section = Section(shape.create_mesh(mesh_sizes=[wall * wall / 10]))
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    iy, iz, _ = section.get_ic()
    wel = section.get_z()[0]
    row = (section.get_area(), iy, iz, wel, section.get_j())
    print(f"{height}x{width}x{wall},{height},{width},{wall}," + ",".join(f"{x:.6g}" for x in row))
