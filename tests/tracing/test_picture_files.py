"""Files of pictures, good and bad, by the command."""

import base64
import io
import json

import numpy as np
import pytest
from pictured_panel import drawn
from PIL import Image

from peekpaper.__main__ import main
from peekpaper.refusal import Refusal
from peekpaper.tracing.embedded import largest_picture
from peekpaper.tracing.picture_file import is_picture, picture_svg


def file_of(picture, kind, **options) -> bytes:
    out = io.BytesIO()
    image = Image.fromarray(picture)
    image = image if kind in {"PNG", "WEBP"} else image.convert("RGB")
    image.save(out, kind, **options)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF"])
def test_pictures_of_all_kinds_are_checked_like_designs(kind, tmp_path, capsys):
    file = tmp_path / "panel.any"
    file.write_bytes(file_of(drawn(150), kind))
    assert is_picture(file.read_bytes())
    assert main(["check", str(file), "--width", "54mm"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert len(told["openings"]) == 4
    assert told["width_mm"] == pytest.approx(54)


def test_a_scan_has_the_size_that_its_file_tells(tmp_path, capsys):
    file = tmp_path / "scan.png"
    file.write_bytes(file_of(drawn(200), "PNG", dpi=(200, 200)))
    assert main(["check", str(file)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["width_mm"], told["height_mm"]) == pytest.approx((54, 34), abs=0.1)


def test_a_photo_is_turned_upright_as_its_file_says():
    turned = np.rot90(drawn(100))
    exif = Image.Exif()
    exif[274] = 6
    upright, plain = picture_svg(file_of(turned, "JPEG", exif=exif)), picture_svg(file_of(drawn(100), "JPEG"))
    assert upright.split("viewBox")[1][:20] == plain.split("viewBox")[1][:20]


def test_of_a_moving_picture_the_first_is_taken():
    first, second = (Image.fromarray(drawn(100)).convert("RGB"), Image.new("RGB", (236, 157), "white"))
    out = io.BytesIO()
    first.save(out, "GIF", save_all=True, append_images=[second])
    assert picture_svg(out.getvalue()).count("M") == 5


def lying(data: bytes) -> bytes:
    """A PNG whose header says that it is 40,000 px wide and high, its check sum made to fit."""
    import zlib

    head = data[12:16] + (40_000).to_bytes(4, "big") * 2 + data[24:29]
    return data[:12] + head + zlib.crc32(head).to_bytes(4, "big") + data[33:]


@pytest.mark.parametrize(
    "data",
    [
        b"\x89PNG\r\n\x1a\n",
        b"\xff\xd8\xff" + b"no picture at all" * 9,
        file_of(drawn(100), "PNG")[:700],
        file_of(drawn(100), "JPEG")[:900],
        lying(file_of(drawn(100), "PNG")),
        b"RIFF\x10\0\0\0WEBPVP8 ",
        b"\0\0\0\x18ftypheic" + b"\0" * 40,
    ],
)
def test_what_is_no_picture_is_refused_in_a_sentence(data, tmp_path, capsys):
    with pytest.raises(Refusal):
        picture_svg(data)
    file = tmp_path / "broken"
    file.write_bytes(data)
    assert main(["check", str(file)]) == 2
    assert "picture" in capsys.readouterr().err


def test_a_very_wide_picture_is_traced():
    wide = np.full((60, 20_000, 4), 255, np.uint8)
    wide[10:50, 100:19_900, :3] = 0
    wide[20:40, 300:500, :3] = 255
    assert picture_svg(file_of(wide, "PNG")).count("M") == 2


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["--picture-corners", "1,2,3"], "four corners"),
        (["--picture-card", "shiny"], "nothing that a card can be"),
    ],
)
def test_options_that_tell_nothing_are_refused(options, sentence, tmp_path, capsys):
    file = tmp_path / "panel.png"
    file.write_bytes(file_of(drawn(100), "PNG"))
    assert main(["check", str(file), *options]) == 2
    assert sentence in capsys.readouterr().err


def holding(*pictures: bytes) -> str:
    """The text of a drawing that holds pictures."""
    tags = "".join(
        f'<image width="9" xlink:href="data:image/png;base64,{base64.b64encode(data).decode()}"/>'
        for data in pictures
    )
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">{tags}</svg>'


def test_of_the_pictures_in_a_drawing_the_largest_is_found():
    small, large = file_of(drawn(50), "PNG"), file_of(drawn(100), "PNG")
    assert largest_picture(holding(small, large, small)) == large
    assert largest_picture(holding(small).replace("/>", "\n/>")) == small


@pytest.mark.parametrize(
    "svg",
    [holding(), holding(b"no picture"), holding(b"x").replace("base64,", "base64,*"), "<image" * 100_000],
)
def test_a_drawing_without_pictures_holds_none(svg):
    assert largest_picture(svg) is None
