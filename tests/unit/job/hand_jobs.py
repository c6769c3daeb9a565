"""Three small jobs whose drawings, mixes and shops are round enough to be priced on paper."""

import hashlib

import ezdxf
import numpy as np
import trimesh

# Water fills 1/998.2 m3/kg. With the doses below each ingredient fills a round volume for 1 kg of
# cement, so that the fresh density is round too:
# "2000": cement 1 kg / 3125 = 0.32 L, sand 1.0009 kg / 2502.25 = 0.40 L, water 0.4991 kg = 0.50 L:
#         2.5 kg in 1.22 L, with 2.4 % air in 1.25 L: 2000 kg/m3;
#         shares 1 / 2.5 = 0.4 cement, 1.0009 / 2.5 = 0.40036 sand, 0.4991 / 2.5 = 0.19964 water.
# "2100": cement 0.32 L, sand 1.00072 kg / 2501.8 = 0.40 L, water 0.39928 kg = 0.40 L: 2.4 kg in
#         1.12 L, with 2 % air in 1.142857 L: 2100 kg/m3;
#         shares 1 / 2.4 cement, 1.00072 / 2.4 sand, 0.39928 / 2.4 water.
RECIPES = {
    "2000": ("0.4991", "2.4 %", "fine-sand", "2502.25 kg/m3", "100.09 %"),
    "2100": ("0.39928", "2 %", "sand", "2501.8 kg/m3", "100.072 %"),
}


def mix_toml(name, recipe, cement, *, layer, placing):
    """A mix of cement, sand and water."""
    w_c, air, sand, density, share = RECIPES[recipe]
    return f"""
name = "{name}"
layer = "{layer}"
placing = "{placing}"
water = {{w_c = {w_c}}}
air = {{share = "{air}"}}
ingredient = {{{cement} = {{role = "cement", density = "3125 kg/m3"}}, \
{sand} = {{role = "sand", density = "{density}"}}}}
dose = [{{ingredient = "{cement}", share = "100 %", basis = "of_cement"}}, \
{{ingredient = "{sand}", share = "{share}", basis = "of_cement"}}]
"""


def rectangle(path, length, width, *, insunits):
    """A rectangle as DXF, E1 along its length, then counter-clockwise."""
    document = ezdxf.new(setup=False)
    document.header["$INSUNITS"] = insunits
    corners = [(0, 0), (length, 0), (length, width), (0, width)]
    document.modelspace().add_lwpolyline(corners, close=True)
    document.saveas(path)


def apron_tray(path, length, width, *, return_depth, apron_depth):
    """An open tray as STL, whose front wall runs deeper than the other three."""
    plan = [(0, 0), (length, 0), (length, width), (0, width)]
    top = [(x, y, 0) for x, y in plan]
    foot = [(x, y, -return_depth) for x, y in plan]
    low = [(0, 0, -apron_depth), (length, 0, -apron_depth)]
    quads = [top, *([top[i], foot[i], foot[i - 3], top[i - 3]] for i in (1, 2, 3))]
    triangles = [[quad[a] for a in corners] for quad in quads for corners in ((0, 1, 2), (0, 2, 3))]
    # The front is cut where its neighbours end, so that all edges meet point on point.
    front = [[top[0], foot[0], foot[1], top[1]], [foot[0], low[0], low[1], foot[1]]]
    triangles += [
        [quad[a] for a in corners] for quad in front for corners in ((0, 1, 2), (0, 2, 3))
    ]
    points = np.asarray(triangles, dtype=float).reshape(-1, 3)
    shell = trimesh.Trimesh(points, np.arange(len(points)).reshape(-1, 3), process=False)
    shell.export(path, file_type="stl_ascii")


def sha12(path):
    """The beginning of the hash of a drawing, which ids are held against."""
    return hashlib.sha256(path.read_bytes()).hexdigest()[:12]


def write_panels(folder):
    """Three panels from two forms, metric: face coat and sprayed backer from ingredients."""
    rectangle(folder / "panel.dxf", 1200, 800, insunits=4)
    face = mix_toml("our-face", "2000", "white-cement", layer="face_coat", placing="sprayed")
    backer = mix_toml("our-backer", "2100", "grey-cement", layer="backer", placing="sprayed")
    (folder / "face.toml").write_text(face, encoding="utf-8")
    (folder / "backer.toml").write_text(backer, encoding="utf-8")
    (folder / "shop.toml").write_text(PANEL_SHOP, encoding="utf-8")
    job = PANEL_JOB.replace("SHA", sha12(folder / "panel.dxf"))
    (folder / "job.toml").write_text(job, encoding="utf-8")
    return folder / "job.toml"


PANEL_JOB = """
[job]
name = "panels"
date = "2026-11-25"
currency = "EUR"

[face_coat]
thickness = "4 mm"
mix = "face.toml"
overspray = "10 %"

[backer]
thickness = "16 mm"
mix = "backer.toml"
overspray = "4 %"

[spare]
share = "5 %"

[qc]
size = "300 x 200 mm"
thickness = "10 mm"
boards = 2

[[piece]]
name = "panel"
drawing = "panel.dxf"
sha256 = "SHA"
edge_depth = "40 mm"
count = 3
forms = 2
edge = {E3 = 0}
finish = {removed = "1 mm"}

[[piece.core]]
name = "foam"
size = "600 x 250 x 10 mm"
density = "30 kg/m3"

[[piece.add]]
name = "rib"
size = "500 x 40 x 25 mm"
count = 2
"""
PANEL_SHOP = """
[[mixer]]
name = "pail"
capacity = "10 L"
residue = "0.25 kg"

[[mixer]]
name = "pan"
capacity = "24 L"
residue = "0.5 kg"
suits = ["our-backer"]

[[scale]]
division = "10 g"

[[price]]
ingredient = "white-cement"
pack = "25 kg"
price = "18.00"

[[price]]
ingredient = "white-cement"
pack = "5 kg"
price = "4.10"

[[price]]
ingredient = "fine-sand"
pack = "20 kg"
price = "6.30"

[[price]]
ingredient = "grey-cement"
pack = "25 kg"
price = "9.50"

[[price]]
ingredient = "grey-cement"
pack = "40 kg"
price = "14.80"

[[price]]
ingredient = "sand"
pack = "25 kg"
price = "4.80"

[[stock]]
ingredient = "white-cement"
mass = "6 kg"
lot = "W1"

[[stock]]
ingredient = "grey-cement"
mass = "10 kg"
lot = "G7"
use_by = "2026-12-01"

[[stock]]
ingredient = "grey-cement"
mass = "5 kg"
lot = "G1"
use_by = "2026-11-20"

[labour]
hour_price = "40.00"

[terms]
markup = "12 %"
tax = "20 %"
minimum_charge = "100.00"

[[rate]]
what = "form boards"
per = "form_m2"
price = "24.00"

[[rate]]
what = "build forms"
per = "form_m2"
hours = "1.5 h"

[[rate]]
what = "bead"
per = "bead_m"
price = "0.85"

[[rate]]
what = "release"
per = "release_m2"
price = "0.60"

[[rate]]
what = "cast"
per = "casting_m2"
hours = "20 min"

[[rate]]
what = "grind"
per = "show_face_m2"
hours = "15 min"

[[rate]]
what = "ease arrises"
per = "arris_m"
price = "1.10"
labour = true

[[rate]]
what = "clean mixer"
per = "batch"
price = "2.50"

[[rate]]
what = "crate"
per = "piece"
price = "18.00"

[[rate]]
what = "waste"
per = "kg"
price = "0.05"

[[rate]]
what = "delivery"
per = "job"
price = "75.00"
"""


def write_counter(folder):
    """One counter with dammed returns and a packed upright, US customary."""
    apron_tray(folder / "counter.stl", 60, 24, return_depth=2, apron_depth=10)
    face = mix_toml("our-face", "2000", "white-cement", layer="face_coat", placing="sprayed")
    poured = mix_toml("our-poured", "2100", "grey-cement", layer="backer", placing="poured")
    packed = mix_toml("our-packed", "2000", "grey-cement", layer="backer", placing="packed")
    (folder / "face.toml").write_text(face, encoding="utf-8")
    (folder / "poured.toml").write_text(poured, encoding="utf-8")
    (folder / "packed.toml").write_text(packed, encoding="utf-8")
    (folder / "shop.toml").write_text(COUNTER_SHOP, encoding="utf-8")
    job = COUNTER_JOB.replace("SHA", sha12(folder / "counter.stl"))
    (folder / "job.toml").write_text(job, encoding="utf-8")
    return folder / "job.toml"


COUNTER_JOB = """
[job]
name = "counter"
date = "2026-11-25"
currency = "USD"
show_units = "us"

[face_coat]
thickness = "1/4 in"
mix = "face.toml"
overspray = "10 %"

[backer]
thickness = "3/4 in"
mix = "poured.toml"

[backer.return]
way = "dammed"

[wall_backer]
mix = "packed.toml"

[[sample]]
name = "for the client"
size = "12 x 12 in"
count = 2

[[piece]]
name = "counter"
drawing = "counter.stl"
sha256 = "SHA"
unit = "in"
kind = "open"
show = "up"
wall = {U1 = "packed"}

[[piece.item]]
name = "bracket"
mass = "1.5 lb"
price = "6.75"
count = 4
"""
COUNTER_SHOP = """
[[mixer]]
name = "pail"
capacity = "5 gal"
residue = "0.6 lb"

[[scale]]
division = "0.01 lb"

[[price]]
ingredient = "white-cement"
pack = "94 lb"
price = "31.00"

[[price]]
ingredient = "white-cement"
pack = "12 lb"
price = "9.90"

[[price]]
ingredient = "fine-sand"
pack = "20 lb"
price = "5.25"

[[price]]
ingredient = "grey-cement"
pack = "94 lb"
price = "16.40"

[[price]]
ingredient = "grey-cement"
pack = "47 lb"
price = "9.10"

[[price]]
ingredient = "sand"
pack = "50 lb"
price = "6.20"

[labour]
hour_price = "45.00"

[terms]
markup = "10 %"
tax = "8.25 %"

[[rate]]
what = "form boards"
per = "form_ft2"
price = "3.20"

[[rate]]
what = "dams"
per = "inner_form_ft2"
price = "2.50"

[[rate]]
what = "build forms"
per = "form_ft2"
hours = "6 min"

[[rate]]
what = "bead"
per = "bead_ft"
price = "0.40"

[[rate]]
what = "place"
per = "lb"
price = "0.12"
labour = true

[[rate]]
what = "release"
per = "release_ft2"
price = "0.05"

[[rate]]
what = "seal"
per = "sealer_ft2"
price = "0.90"

[[rate]]
what = "pack the apron"
per = "upright_ft2"
hours = "15 min"

[[rate]]
what = "finish returns"
per = "return_ft2"
price = "1.00"
"""


def write_tiles(folder):
    """Five slabs of a dry premix, sprayed 3 to 5 mm thick: less than the minimum charge."""
    rectangle(folder / "tile.dxf", 900, 600, insunits=4)
    (folder / "premix.toml").write_text(TILE_MIX, encoding="utf-8")
    (folder / "shop.toml").write_text(TILE_SHOP, encoding="utf-8")
    (folder / "job.toml").write_text(TILE_JOB, encoding="utf-8")
    return folder / "job.toml"


# (25 + 4) kg in 14.5 L: 2000 kg/m3, of it 25/29 premix and 4/29 water.
TILE_MIX = """
name = "our-premix"
kind = "premix"
layer = "face_coat"
placing = "sprayed"
bag = {name = "grey premix", mass = "25 kg", yield = "14.5 L", water = "4 kg"}
"""
TILE_JOB = """
[job]
name = "tiles"
date = "2026-11-25"
currency = "EUR"

[face_coat]
thickness = "3-4-5 mm"
mix = "premix.toml"
overspray = "20 %"

[[piece]]
name = "tile"
drawing = "tile.dxf"
edge_depth = "0 mm"
count = 5
forms = 1
"""
TILE_SHOP = """
[[mixer]]
name = "pail"
capacity = "20 L"
residue = "0.4 kg"

[[scale]]
division = "10 g"

[[price]]
ingredient = "grey premix"
pack = "25 kg"
price = "21.50"

[labour]
hour_price = "35.00"

[terms]
markup = "20 %"
tax = "19 %"
minimum_charge = "100.00"

[[rate]]
what = "cast"
per = "casting_m2"
hours = "0.4 h"

[[rate]]
what = "seal"
per = "sealer_m2"
price = "3.50"

[[rate]]
what = "haul"
per = "kg"
price = "0.10"
"""
