"""Our own cases, drawn by an independent renderer too."""

import pytest
from drawn import svg
from renderer import AGREES, share_that_differs

STAR = "M100 15l50 160-130-100h160l-130 100z"
CASES = {
    "a bent arc": '<path d="M20 150A90 40 -30 1 1 120 180" fill="none" stroke="red" stroke-width="12"/>',
    "a loop with a cusp": '<path d="M20 100C220 20-20 20 180 100" fill="none" stroke="red" '
    'stroke-width="9"/>',
    "a tight turn": '<path d="M20 180C20 20 24 20 24 180" fill="none" stroke="red" stroke-width="20"/>',
    "round joins on a zigzag": '<path d="M20 20 180 40 20 60 180 80 20 180" fill="none" stroke="red" '
    'stroke-width="14" stroke-linejoin="round" stroke-linecap="round"/>',
    "clipped miters": '<path d="M20 20 180 40 20 60" fill="none" stroke="red" stroke-width="14" '
    'stroke-linejoin="miter-clip" stroke-miterlimit="3"/>',
    "dashes around a curve": '<path d="M20 100Q100-60 180 100T60 150" fill="none" stroke="red" '
    'stroke-width="8" stroke-dasharray="20 6 3 6" stroke-dashoffset="7" stroke-linecap="square"/>',
    "dashes around a rounded frame": '<rect x="30" y="30" width="140" height="120" rx="30" ry="20" '
    'fill="none" stroke="red" stroke-width="10" stroke-dasharray="25 12"/>',
    "a slanted stroke": f'<g transform="skewX(20) scale(0.8 0.4)"><path d="{STAR}" fill="none" stroke="red" '
    'stroke-width="16" stroke-linejoin="round"/></g>',
    "a star by each rule": f'<path d="{STAR}" transform="scale(.5)"/><path d="{STAR}" fill-rule="evenodd" '
    'transform="translate(90 90) scale(.5)"/>',
    "rings that touch": '<path fill-rule="evenodd" '
    'd="M20 20H180V180H20zM20 20H100V100H20zM100 100H180V180H100z"/>',
    "an ellipse turned about the middle": '<ellipse cx="100" cy="100" rx="80" ry="20" transform="rotate(30)" '
    'transform-origin="center"/>',
    "clips within clips": f'<clipPath id="a"><circle cx="100" cy="100" r="70"/></clipPath><clipPath id="b" '
    f'clip-path="url(#a)"><path d="{STAR}" clip-rule="evenodd"/></clipPath>'
    '<g transform="rotate(9 100 100)" clip-path="url(#b)"><rect width="200" height="200"/></g>',
    "symbols and nested pages": '<symbol id="s" viewBox="0 0 20 10" preserveAspectRatio="xMaxYMin slice">'
    '<circle cx="10" cy="5" r="8"/></symbol><use href="#s" x="20" y="20" width="60" height="120"/>'
    '<svg x="110" y="20" width="50" height="80" viewBox="0 0 10 10"><path d="M0 0H10V20z"/></svg>',
    "a sheet of styles": "<style>.a > path:first-child {stroke: red; fill: none; stroke-width: 9} "
    '.a {fill: blue}</style><g class="a"><path d="M20 20H60V60z"/><path d="M80 80H160V160z"/></g>',
    "arrows": '<marker id="m" viewBox="0 0 10 10" refX="5" refY="5" markerWidth="6" markerHeight="6" '
    'orient="auto-start-reverse"><path d="M0 0L10 5L0 10z"/></marker><path d="M40 40L100 160L160 40" '
    'fill="none" stroke="red" stroke-width="5" marker-start="url(#m)" '
    'marker-mid="url(#m)" marker-end="url(#m)"/>',
    "a rounded rectangle with odd radii": '<rect x="20" y="20" width="160" height="60" rx="200" ry="10"/>'
    '<rect x="20" y="100" width="60" height="60" rx="20"/>',
    "points of no length": '<path d="M50 50h0M100 50z" stroke="red" stroke-width="30" '
    'stroke-linecap="round"/>'
    '<path d="M50 120h0M100 120z" stroke="red" stroke-width="30" stroke-linecap="square"/>',
    "a comma before the next command": '<path d="M20,20 160,20, L 100 160,"/>',
    "a number that breaks off": '<path d="M20 20 L100 20 150 1e z" fill="none" stroke="red" '
    'stroke-width="9"/>',
    "a miter limit below one": '<path d="M30 150L100 30L120 150L170 60" fill="none" stroke="red" '
    'stroke-width="16" stroke-miterlimit="0.5"/>',
    "a comma before dashes": '<path d="M20 100H180" stroke="red" stroke-width="9" '
    'stroke-dasharray=",20 5"/>',
    "a font in one declaration": '<g style="font: bold 30px serif"><rect x="1em" y="1em" width="2em" '
    'height="3em"/></g>',
    "an aspect in error": '<svg x="20" y="30" width="150" height="80" viewBox="0 0 100 100" '
    'preserveAspectRatio="middle slice"><circle cx="40" cy="50" r="45"/></svg>',
    "a transform in the attribute has no units": '<rect x="20" y="20" width="60" height="50" '
    'transform="rotate(30deg)"/><rect x="120" y="20" width="60" height="50" transform="TRANSLATE(20)"/>',
    "a use moves its clip": '<clipPath id="c"><circle cx="80" cy="80" r="50"/></clipPath><defs>'
    '<rect id="r" width="190" height="190"/></defs><use href="#r" x="40" clip-path="url(#c)"/>',
    "a nested page moves its clip": '<clipPath id="c"><circle cx="70" cy="70" r="30"/></clipPath>'
    '<svg x="30" y="30" width="100" height="100" viewBox="0 0 150 150" clip-path="url(#c)">'
    '<rect x="20" y="20" width="60" height="50"/></svg>',
    "percentages in a clip that fits a box": '<clipPath id="c" clipPathUnits="objectBoundingBox">'
    '<rect width="50%" height=".5"/></clipPath><rect x="10" y="10" width="180" height="150" '
    'clip-path="url(#c)"/>',
    "a clip that fits a box and turns about its middle": '<clipPath id="c" '
    'clipPathUnits="objectBoundingBox" transform="scale(1.5)" transform-origin="center"><rect x="0.3" '
    'y="0.3" width="0.4" height="0.2"/></clipPath><rect width="200" height="200" clip-path="url(#c)"/>',
    "a clip for other readers": '<clipPath id="c"><circle cx="80" cy="80" r="50" systemLanguage="ru"/>'
    '<rect width="40" height="40"/></clipPath><rect width="190" height="190" clip-path="url(#c)"/>',
    "a clip with a box of its own is none": '<clipPath id="c"><circle cx="80" cy="80" r="50"/></clipPath>'
    '<rect width="190" height="190" style="clip-path: url(#c) view-box"/>',
    "a marker turned by a part of a turn, though not displayed": '<marker id="m" viewBox="0 0 10 10" '
    'refX="5" refY="5" orient="0.1turn" display="none"><path d="M0 0L10 5L0 10z"/></marker>'
    '<path d="M40 40L100 100" stroke="red" stroke-width="9" marker-end="url(#m)"/>',
    "a hidden line has no markers": '<marker id="m"><path d="M0 0L10 5L0 10z"/></marker>'
    '<path d="M40 40L100 100" stroke="red" stroke-width="9" marker-end="url(#m)" visibility="hidden"/>',
    "a gradient of nothing": '<linearGradient id="g"><stop stop-opacity="0"/><stop offset="1" '
    'stop-color="transparent"/></linearGradient><rect width="150" height="90" fill="url(#g) red" '
    'stroke="url(#g)" stroke-width="9"/>',
    "a clip that fits a box far from the corner is transformed after that": '<clipPath id="c" '
    'clipPathUnits="objectBoundingBox" transform="scale(0.5)"><circle cx="0.5" cy="0.5" r="0.5"/></clipPath>'
    '<rect x="20" y="30" width="160" height="140" clip-path="url(#c)"/>',
    "a clip on a symbol is in its own units": '<clipPath id="c"><circle r="10"/></clipPath><symbol id="s" '
    'clip-path="url(#c)" viewBox="0 0 10 10"><rect width="20" height="20"/></symbol><use href="#s" x="20" '
    'y="20" width="50" height="50"/>',
    "a symbol has neither place nor size of its own": '<symbol id="s" x="30" y="9" width="50" height="40" '
    'viewBox="0 0 20 20"><rect x="2" y="2" width="17" height="9"/></symbol><use href="#s" height="90"/>',
    "a symbol that is not displayed still serves": '<symbol id="s" display="none"><circle cx="80" cy="80" '
    'r="50"/></symbol><use href="#s"/>',
    "a negative size is none": '<svg width="-20" height="90"><circle cx="60" cy="45" r="40"/></svg>',
    "a use of what other readers are to see": '<defs><rect id="r" width="90" height="50" '
    'systemLanguage="ru"/></defs><use href="#r"/>',
    "a choice passes over what is no shape": '<switch><title>Choice</title><foreignObject width="50" '
    'height="50"/><rect x="20" y="20" width="60" height="60"/><circle cx="150" cy="150" r="30"/></switch>',
    "a style sheet of a web page": '<style xmlns="http://www.w3.org/1999/xhtml">rect {fill: none}</style>'
    '<rect width="90" height="90"/>',
    "an aspect with a word too many": '<svg x="20" y="20" width="150" height="60" viewBox="0 0 50 50" '
    'preserveAspectRatio="xMinYMin all"><circle cx="25" cy="25" r="20"/></svg>',
    "spaces around an address": '<defs><rect id="r" width="90" height="50"/></defs><use href=" #r "/>',
    "numbers that touch in a transform": '<rect width="180" height="90" transform="scale(.5.8)"/>',
    "a comma after a transform": '<rect width="90" height="50" transform="translate(30),"/>'
    '<rect y="100" width="90" height="50" transform=",translate(30)"/>',
    "origins with more than there is to say": '<g transform="translate(90 90)"><rect width="60" height="30" '
    'transform="rotate(90)" transform-origin="left 10% top 20%"/><rect width="60" height="30" '
    'transform="rotate(90)" transform-origin="50 50 10%"/></g>',
    "a paint whose fallback is no colour": '<rect width="90" height="90" fill="url(#none) nonsense"/>'
    '<rect x="100" width="90" height="90" fill="url(#none) url(#none) green"/>',
    "an arc back to where it starts": '<path d="M60 100A80 80 0 1 1 60 100" stroke="red" stroke-width="30" '
    'stroke-linecap="round"/>',
    "gradients": '<linearGradient id="g"><stop stop-color="red"/><stop offset="1" stop-color="blue"/>'
    '</linearGradient><rect x="20" y="20" width="80" height="80" fill="url(#g)" stroke="url(#g)" '
    'stroke-width="9"/>'
    '<path d="M20 150H180" stroke="url(#g) green" stroke-width="20"/>',
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_ink_is_what_the_renderer_paints(case: str) -> None:
    assert share_that_differs(svg(CASES[case], 'viewBox="0 0 200 200"')) <= AGREES


def test_the_measure_sees_a_bar_that_is_missing() -> None:
    # A check of the check: 4 by 40 units in 200 by 200 are 0.4 % of it.
    without = svg('<rect x="20" y="20" width="100" height="100"/>', 'viewBox="0 0 200 200"')
    whole = without.replace("</svg>", '<path d="M150 20h4v40h-4z"/></svg>')
    assert share_that_differs(whole) <= AGREES
    assert share_that_differs(without, reference=whole) > AGREES
    assert share_that_differs(whole, reference=without) > AGREES
