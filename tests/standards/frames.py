# Writes frames.csv: beams, posts and portals by finite elements, each with a force of 1000 N or
# a couple of 1000 N·m, in N, m. Needs the package PyNiteFEA (PyPI), whose members do not give
# in shear. Sections are those of published EN 10219 tables.
from importlib.metadata import version

from Pynite import FEModel3D

E, G = 210e9, 210e9 / 2.6
# Name: area, second moments about the horizontal and the vertical axis, torsion constant.
TUBES = {
    "80x80x4": (11.748e-4, 111.043e-8, 111.043e-8, 180.436e-8),
    "100x100x4": (14.948e-4, 226.352e-8, 226.352e-8, 362.012e-8),
    "120x60x4": (13.348e-4, 240.74e-8, 81.2471e-8, 201.12e-8),
}
LOAD = 1000.0
# Tubes of beam and posts, span, height, and the tool below and ahead of the beam's axis: those
# of frame plans.
GANTRIES = [
    ("80x80x4", "80x80x4", 0.94, 0.3, 0.134, 0.166),
    ("80x80x4", "80x80x4", 0.94, 0.38, 0.134, 0.166),
    ("100x100x4", "80x80x4", 0.94, 0.31, 0.144, 0.176),
    ("120x60x4", "120x60x4", 0.96, 0.4, 0.154, 0.156),
]


def new():
    model = FEModel3D()
    model.add_material("steel", E, G, 0.3, 7850.0)
    model.add_section("stiff", 1.0, 1.0, 1.0, 1.0)
    for name, (area, i_up, i_across, j) in TUBES.items():
        # Local z of a level member points across: Iz is the second moment for bending up.
        model.add_section(name, area, i_across, i_up, j)
    return model


def beam(tube, length, place, clamped, load):
    model = new()
    model.add_node("a", 0, 0, 0)
    model.add_node("p", length * place, 0, 0)
    model.add_node("b", length, 0, 0)
    model.add_member("one", "a", "p", "steel", tube)
    model.add_member("two", "p", "b", "steel", tube)
    for node in ("a", "b"):
        model.def_support(node, True, True, True, True, clamped, clamped)
    model.add_node_load("p", load, LOAD)
    model.analyze_linear()
    node = model.nodes["p"]
    return {"FY": node.DY, "FZ": node.DZ, "MZ": node.RZ, "MX": node.RX}[load]["Combo 1"]


def portal(beam_tube, leg_tube, span, height, foot):
    """Two legs with a beam on top, pushed along the beam; foot: None clamped, else N·m/rad."""
    model = new()
    for name, x, y in (("a", 0, 0), ("b", 0, height), ("c", span, height), ("d", span, 0)):
        model.add_node(name, x, y, 0)
    model.add_member("left", "a", "b", "steel", leg_tube)
    model.add_member("right", "d", "c", "steel", leg_tube)
    # No give along the legs and the beam: the closed form knows bending alone.
    area, i_up, i_across, j = TUBES[beam_tube]
    model.add_section("bends", 1.0, i_across, i_up, j)
    model.add_member("beam", "b", "c", "steel", "bends")
    for name in ("left", "right"):
        area, i_up, i_across, j = TUBES[leg_tube]
        model.add_section("leg " + name, 1.0, i_across, i_across, j)
        model.members[name].section = model.sections["leg " + name]
    for node in ("a", "d"):
        model.def_support(node, True, True, True, True, True, foot is None)
        if foot is not None:
            model.def_support_spring(node, "RZ", foot)
    for node in ("b", "c"):
        model.def_support(node, False, False, True, False, False, False)
    model.add_node_load("b", "FX", LOAD)
    model.analyze_linear()
    return model.nodes["b"].DX["Combo 1"]


def gantry(beam_tube, leg_tube, span, height, below, ahead, load):
    """A whole gantry on two posts clamped at their feet, the beam's ends hinged for bending
    and held in twist, with a stiff arm from mid-span to the tool."""
    model = new()
    for name, x, y, z in (
        ("a", 0, 0, 0),
        ("b", 0, height, 0),
        ("m", span / 2, height, 0),
        ("t", span / 2, height - below, ahead),
        ("c", span, height, 0),
        ("d", span, 0, 0),
    ):
        model.add_node(name, x, y, z)
    area, i_up, i_across, j = TUBES[leg_tube]
    # A post bends forth and back (about x) with its larger side; it is stiff along itself.
    model.add_section("post", 1.0, i_up, i_up, j)
    model.add_member("left", "a", "b", "steel", "post")
    model.add_member("right", "d", "c", "steel", "post")
    model.add_member("one", "b", "m", "steel", beam_tube)
    model.add_member("two", "m", "c", "steel", beam_tube)
    model.def_releases("one", Ryi=True, Rzi=True)
    model.def_releases("two", Ryj=True, Rzj=True)
    model.add_member("arm", "m", "t", "steel", "stiff")
    for node in ("a", "d"):
        model.def_support(node, True, True, True, True, True, True)
    model.add_node_load("t", load, LOAD)
    model.analyze_linear()
    node = model.nodes["t"]
    return {"FZ": node.DZ, "FY": node.DY}[load]["Combo 1"]


def main():
    print(f"# PyNiteFEA {version('PyNiteFEA')}, displacement in m or rad for a load of 1000 N or N·m")
    print("case,beam,leg,span_m,height_m,place_or_below_m,ahead_m,ends,value")
    for tube in TUBES:
        for place in (0.5, 0.25, 0.1):
            for clamped in (False, True):
                ends = "clamped" if clamped else "hinged"
                for name, load in (("up", "FY"), ("across", "FZ"), ("couple", "MZ"), ("twist", "MX")):
                    value = beam(tube, 1.2, place, clamped, load)
                    print(f"{name},{tube},,1.2,,{place},,{ends},{value:.8e}")
    for foot, ends in ((None, "clamped"), (4.0e4, "40000"), (1.0, "1")):
        for pair in (("80x80x4", "80x80x4"), ("100x100x4", "80x80x4"), ("80x80x4", "120x60x4")):
            value = portal(*pair, 1.0, 0.4, foot)
            print(f"sway,{pair[0]},{pair[1]},1.0,0.4,,,{ends},{value:.8e}")
    for beam_tube, leg_tube, span, height, below, ahead in GANTRIES:
        for name, load in (("gantry-y", "FZ"), ("gantry-z", "FY")):
            value = gantry(beam_tube, leg_tube, span, height, below, ahead, load)
            print(f"{name},{beam_tube},{leg_tube},{span},{height},{below},{ahead},hinged,{value:.8e}")


main()
