"""Makes the fixtures of this folder that come from outside libraries.

pip install colour-science==0.4.7 scikit-image==0.26.0 pillow==13.0.0 pillow-heif==1.8.1 numpy==2.4.6
python make_fixtures.py
"""

import json
import struct
from pathlib import Path

import colour
import numpy as np
import pillow_heif
from PIL import Image
from skimage.color import deltaE_ciede2000

HERE = Path(__file__).parent
D65 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]


def random_pairs():
    """CIEDE2000 of random pairs, far and near, by colour-science and by scikit-image."""
    random = np.random.default_rng(20261125)
    low, high = [0, -100, -100], [100, 100, 100]
    one = random.uniform(low, high, (500, 3))
    far = random.uniform(low, high, (250, 3))
    near = one[250:] + random.normal(0, 4, (250, 3))
    other = np.concatenate([far, near])
    one, other = one.round(6), other.round(6)
    return {
        "one": one.tolist(),
        "other": other.tolist(),
        "colour-science": colour.delta_E(one, other, method="CIE 2000").tolist(),
        "scikit-image": deltaE_ciede2000(one, other).tolist(),
    }


def conversions():
    """Random 8-bit values as sRGB and as Display P3, in CIELAB under D65."""
    random = np.random.default_rng(5)
    coded = random.integers(0, 256, (200, 3))
    result = {"coded": coded.tolist()}
    for name in ("sRGB", "Display P3"):
        space = colour.RGB_COLOURSPACES[name]
        xyz = colour.RGB_to_XYZ(coded / 255, space, apply_cctf_decoding=True)
        result[name] = colour.XYZ_to_Lab(xyz, D65).tolist()
    return result


def charts():
    """The 24 patches of a chart under published lamps, as a camera without white balance that sees
    in sRGB primaries would record them, and in CIELAB under D65."""
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    patches = colour.SDS_COLOURCHECKERS["BabelColor Average"]
    to_rgb = colour.RGB_COLOURSPACES["sRGB"].matrix_XYZ_to_RGB

    def seen(lamp):
        lamp = colour.SDS_ILLUMINANTS[lamp]
        return np.array([colour.sd_to_XYZ(p, observer, lamp) / 100 for p in patches.values()])

    return {
        "names": list(patches),
        "lab": colour.XYZ_to_Lab(seen("D65"), D65).tolist(),
        "grey": 21,
        "grey_reflectance": float(seen("D65")[21][1]),
        "linear": {
            name: (seen(lamp) @ to_rgb.T).tolist()
            for name, lamp in {
                "A": "A",
                "D50": "D50",
                "D65": "D65",
                "F2": "FL2",
                "F11": "FL11",
                "LED-B3": "LED-B3",
                "LED-B1": "LED-B1",
                "LED-RGB1": "LED-RGB1",
            }.items()
        },
    }


def disc():
    """Grey with a tan disc, as in intake.rs."""
    y, x = np.mgrid[0:200, 0:320]
    inside = np.hypot(x - 90.0, y - 60.0) < 45
    return np.where(inside[..., None], [210, 180, 140], [90, 90, 90]).astype(np.uint8)


def s15(value):
    return struct.pack(">i", round(value * 65536))


def display_p3():
    """A Display P3 profile (ICC.1:2022, matrix and curves), its numbers from colour-science."""
    space = colour.RGB_COLOURSPACES["Display P3"]
    white = colour.xy_to_XYZ(space.whitepoint)
    d50 = np.array([0.9642, 1.0, 0.8249])
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(white, d50, "Bradford")
    columns = (adapt @ space.matrix_RGB_to_XYZ).T

    def xyz(values):
        return b"XYZ \0\0\0\0" + b"".join(s15(v) for v in values)

    # The sRGB curve as a parametric curve of type 3.
    curve = b"para\0\0\0\0\0\3\0\0" + b"".join(
        s15(v) for v in (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    )
    text = "Display P3, made for a test".encode("utf-16-be")
    name = b"mluc\0\0\0\0" + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(text), 28) + text
    name += b"\0" * (-len(name) % 4)
    tags = [(b"desc", name), (b"wtpt", xyz(d50))]
    tags += [(key, xyz(column)) for key, column in zip((b"rXYZ", b"gXYZ", b"bXYZ"), columns)]
    tags += [(key, curve) for key in (b"rTRC", b"gTRC", b"bTRC")]
    table, body = struct.pack(">I", len(tags)), b""
    start = 128 + 4 + 12 * len(tags)
    for key, data in tags:
        table += key + struct.pack(">II", start + len(body), len(data))
        body += data
    size = 128 + len(table) + len(body)
    header = struct.pack(">I4sI4s4s4s", size, b"\0" * 4, 0x04300000, b"mntr", b"RGB ", b"XYZ ")
    header += struct.pack(">6H", 2026, 11, 25, 0, 0, 0) + b"acsp" + b"\0" * 24
    header += b"\0" * 4 + b"".join(s15(v) for v in d50)
    return header.ljust(128, b"\0") + table + body


def heic():
    upright = Image.fromarray(disc())
    pillow_heif.from_pillow(upright).save(HERE / "disc.heic", quality=90, chroma=444)
    srgb, p3 = colour.RGB_COLOURSPACES["sRGB"], colour.RGB_COLOURSPACES["Display P3"]
    in_p3 = colour.RGB_to_RGB(
        disc() / 255, srgb, p3, apply_cctf_decoding=True, apply_cctf_encoding=True
    )
    picture = Image.fromarray((in_p3.clip(0, 1) * 255).round().astype(np.uint8))
    picture.info["icc_profile"] = display_p3()
    pillow_heif.from_pillow(picture).save(HERE / "disc-p3.heic", quality=90, chroma=444)


if __name__ == "__main__":
    (HERE / "random-pairs.json").write_text(json.dumps(random_pairs()) + "\n")
    (HERE / "conversions.json").write_text(json.dumps(conversions()) + "\n")
    (HERE / "charts.json").write_text(json.dumps(charts()) + "\n")
    (HERE / "display-p3.icc").write_bytes(display_p3())
    heic()
