"""Colours stand among the tokens, and no style is kept that nothing in the page wears."""

import re
from pathlib import Path

WEB = Path(__file__).parents[2] / "web"
STYLES = {
    path.name: re.sub(r"/\*.*?\*/", "", path.read_text(), flags=re.DOTALL)
    for path in sorted((WEB / "styles").glob("*.css"))
}
COLOUR = re.compile(r"#[0-9a-fA-F]{3,8}(?=[\s;,)])|\b(?:rgb|hsl)a?\([^)]*\)")


def test_no_style_sheet_but_the_tokens_names_a_colour() -> None:
    named = {name: COLOUR.findall(text) for name, text in STYLES.items() if name != "tokens.css"}
    assert not {name: colours for name, colours in named.items() if colours}
    assert COLOUR.findall(STYLES["tokens.css"])


def test_every_class_that_has_a_style_is_named_in_the_page() -> None:
    scripts = [path for path in WEB.rglob("*.js") if "node_modules" not in path.parts]
    page = "\n".join(path.read_text() for path in [WEB / "index.html", *scripts])
    words = set(re.findall(r"[\w-]+", page))
    selectors = " ".join(re.findall(r"[^{}]*(?=\{)", "\n".join(STYLES.values())))
    assert not set(re.findall(r"\.([a-zA-Z][\w-]*)", selectors)) - words


def test_every_token_is_used() -> None:
    used = "\n".join([*STYLES.values(), *(path.read_text() for path in (WEB / "stage").rglob("*.js"))])
    tokens = set(re.findall(r"(--[\w-]+):", STYLES["tokens.css"]))
    assert not {token for token in tokens if f"var({token})" not in used}
