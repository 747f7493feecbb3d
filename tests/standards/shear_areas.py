# Writes shear_areas.csv: areas that bear shear along the height and along the width of a hollow
# section, by finite elements (the library's warping analysis). Corner radii of EN 10219-2 Annex
# B for walls up to 6 mm. Needs sectionproperties (PyPI).
from importlib.metadata import version

from sectionproperties.analysis import Section
from sectionproperties.pre import Material
from sectionproperties.pre.library import rectangular_hollow_section

steel = Material("steel", 210e3, 0.3, 235, 7.85e-6, "grey")
print(f"# sectionproperties {version('sectionproperties')}, warping analysis, corner arcs of 24 points,")
print("# mesh of a tenth of the squared wall; four significant digits.")
print("section,height_mm,width_mm,wall_mm,up_mm2,across_mm2")
for height, width, wall in [(60, 60, 3), (80, 80, 4), (100, 100, 4), (80, 40, 4), (120, 60, 4), (120, 80, 4)]:
    shape = rectangular_hollow_section(d=height, b=width, t=wall, r_out=2 * wall, n_r=24, material=steel)
    section = Section(shape.create_mesh(mesh_sizes=[wall * wall / 10]))
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    across, up = section.get_eas(e_ref=steel)
    print(f"{height}x{width}x{wall},{height},{width},{wall},{up:.4g},{across:.4g}")
