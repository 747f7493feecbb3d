# Writes table_plates.csv: moving tables as plates by finite elements, held up at four points by
# their carriages and pressed in the middle. Poisson's ratio of aluminium, 0.33. Needs PyNiteFEA
# (PyPI); its plate elements do not give in shear.
from importlib.metadata import version

from Pynite import FEModel3D

E, NU, LOAD, MESH = 71e9, 0.33, 1000.0, 0.02
# Across the rails, along them, thickness, distance of rails and of carriages, in mm: those of a
# frame plan.
TABLES = [(360, 460, 10, 300, 320), (460, 460, 8, 300, 320), (460, 460, 15, 300, 320), (660, 460, 12, 300, 320)]


def sinks(width, length, thick, gap, span):
    model = FEModel3D()
    model.add_material("aluminium", E, E / 2 / (1 + NU), NU, 2700.0)
    # Lines of the mesh run through the carriages and the middle.
    def lines(half, held):
        edges = [-half, -held, 0.0, held, half]
        found = []
        for low, high in zip(edges, edges[1:]):
            parts = max(1, round((high - low) / MESH))
            found += [low + (high - low) * i / parts for i in range(parts)]
        return found + [half]

    xs, ys = lines(width / 2, gap / 2), lines(length / 2, span / 2)
    name = lambda i, j: f"n{i}_{j}"
    for i, x in enumerate(xs):
        for j, y in enumerate(ys):
            model.add_node(name(i, j), x, y, 0)
            # The plate does not stretch.
            model.def_support(name(i, j), True, True, False, False, False, True)
    for i in range(len(xs) - 1):
        for j in range(len(ys) - 1):
            corners = name(i, j), name(i + 1, j), name(i + 1, j + 1), name(i, j + 1)
            model.add_plate(f"p{i}_{j}", *corners, thick, "aluminium")
    for x in (-gap / 2, gap / 2):
        for y in (-span / 2, span / 2):
            model.def_support(name(xs.index(x), ys.index(y)), True, True, True, False, False, True)
    middle = name(xs.index(0.0), ys.index(0.0))
    model.add_node_load(middle, "FZ", -LOAD)
    model.analyze_linear()
    return -model.nodes[middle].DZ["Combo 1"]


print(f"# PyNiteFEA {version('PyNiteFEA')}, plate elements of 20 mm; N/um, four significant digits.")
print("table,width_mm,length_mm,thick_mm,gap_mm,span_mm,n_per_um")
for table in TABLES:
    stiffness = LOAD / sinks(*(mm / 1e3 for mm in table)) / 1e6
    print(f"{table[0]} x {table[1]} x {table[2]}," + ",".join(map(str, table)) + f",{stiffness:.4g}")
