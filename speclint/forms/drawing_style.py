"""How drawings look: line weights that print, colours by day and night, and the hatches of common drafting practice."""

from __future__ import annotations

from collections.abc import Iterable

_PALETTE = {  # name: by day, by night
    "sheet": ("#ffffff", "#16181c"),
    "ink": ("#1a1c1e", "#eceae6"),
    "soft": ("#55595e", "#b4b6b9"),
    "hair": ("#7b8894", "#76838f"),
    "accent": ("#a5351a", "#ff9a78"),
    "on-accent": ("#ffffff", "#16181c"),
    "piece": ("#eceff1", "#2a313a"),
    "cut": ("#f3dcc4", "#56402a"),
    "cut-edge": ("#8f5a17", "#d9a467"),
    "timber": ("#f4ead7", "#3a3226"),
    "mass": ("#efefec", "#2b2d30"),
    "board": ("#e6ebe7", "#2d3531"),
    "lime": ("#f5f2ea", "#333028"),
    "clay": ("#dfe6ec", "#2b3844"),
    "foam": ("#f6eef3", "#382e36"),
    "ground": ("#f0e9df", "#332d25"),
    "dark": ("#3c4044", "#c9cccf"),
}
_STYLES: dict[str, tuple[str, str, float, str]] = {  # name: fill, stroke, weight of line in mm, dashes
    "face": ("sheet", "ink", 0.5, ""),
    "full": ("piece", "hair", 0.18, ""),
    "cut": ("cut", "cut-edge", 0.22, ""),
    "hole": ("sheet", "ink", 0.45, ""),
    "ghost": ("none", "soft", 0.3, "1.6 1"),
    "line": ("none", "soft", 0.22, ""),
    "strong": ("none", "ink", 0.5, ""),
    "axis": ("none", "accent", 0.3, "4 1 0.8 1"),
    "untold": ("sheet", "soft", 0.3, "1.4 1"),
    "barrier": ("none", "ink", 1.1, "3.2 1.3"),
    "dim": ("none", "soft", 0.18, ""),
    "leader": ("none", "soft", 0.18, ""),
    "call": ("none", "accent", 0.3, ""),
    "dot": ("ink", "none", 0, ""),
    "spot": ("accent", "none", 0, ""),
    "flag": ("accent", "none", 0, ""),
    "board-back": ("board", "ink", 0.25, ""),
    "key": ("sheet", "ink", 0.25, ""),
    "outline": ("none", "ink", 0.35, ""),
    "metal": ("dark", "ink", 0.2, ""),
    "sealant": ("dark", "ink", 0.25, ""),
    "water": ("none", "accent", 0.35, ""),
}
_HATCHED: dict[str, tuple[str, float, str]] = {  # name: ground, side of the pattern in mm, what stands in it
    "wood": ("timber", 4, "l0,1 4,1;l0,2.4 4,2.4;l0,3.6 4,3.6"),
    "timber": ("timber", 0, ""),
    "slab": ("mass", 7, "d1,1.2;d3.4,0.7;d5.8,2;d2.2,4.6;d6.2,5.6;d4.2,6.3;l0.8,3.4 1.8,3.2 1.2,2.5 0.8,3.4;"
             "l4.6,3.2 5.6,3.9 5.7,3 4.6,3.2"),
    "masonry": ("mass", 2.4, "l0,2.4 2.4,0"),
    "mortar": ("lime", 3, "d0.6,0.6;d2,1.1;d1.1,2.2;d2.6,2.6"),
    "gypsum": ("board", 4, "d0.8,0.9;d2.9,2.4;l1.4,3.4 2.2,2.6"),
    "cement": ("board", 3, "l0,3 3,0;d0.7,0.7;d2.3,2.4"),
    "foam": ("foam", 3.2, "l0,0 3.2,3.2;l0,3.2 3.2,0"),
    "batt": ("foam", 6, "l0,3 0.6,0.9 1.5,0.1 2.4,0.9 3,3 3.6,5.1 4.5,5.9 5.4,5.1 6,3"),
    "earth": ("ground", 8, "l0.4,3.4 3.4,0.4;l1.4,3.9 3.9,1.4;l2.6,4.1 4.1,2.6;"
              "l4.4,4.4 7.6,7.6;l4.4,6 6,7.6;l5.8,4.4 7.6,6.2"),
    "gravel": ("sheet", 3.2, "c0.9,0.9 0.7;c2.5,1.6 0.6;c1.2,2.5 0.5"),
    "tile": ("clay", 1.6, "l0,1.6 1.6,0"),
    "grout": ("mass", 1.4, "d0.4,0.4;d1.1,1"),
    "mat": ("lime", 2.4, "l0,1.8 0.6,1.8 0.9,0.6 1.5,0.6 1.8,1.8 2.4,1.8"),
    "old": ("mass", 3, "l0,1.5 3,1.5;l1.5,0 1.5,1.5;l0,1.5 0,3"),
}  # fmt: skip
_MARK = "hatch-"
HATCHES = tuple(_HATCHED)
"""The styles that are hatches."""


def css() -> str:
    """The rules of all drawings: each colour is a variable, with its daylight colour for readers without variables."""
    rules = ["text{font-family:Helvetica,Arial,sans-serif;" + _told("fill", "ink") + "}"]
    rules += [f".faint,.mark,.note{{{_told('fill', 'soft')}}}.sheet{{{_told('fill', 'sheet')}}}"]
    rules += [f".head{{font-weight:bold}}.count{{font-weight:bold;{_told('fill', 'on-accent')}}}"]
    rules += [
        f".{_MARK}line{{fill:none;stroke-width:.14;{_told('stroke', 'hair')}}}.{_MARK}dot{{{_told('fill', 'hair')}}}"
    ]
    for name, (fill, stroke, weight, dashes) in _STYLES.items():
        rules.append(f".{name}{{{_told('fill', fill)}{_stroke(stroke, weight, dashes)}}}")
    for name, (ground, side, _) in _HATCHED.items():
        fill = f"fill:url(#{_MARK}{name})" if side else _told("fill", ground)
        rules.append(f".{name}{{{fill}{_stroke('ink', 0.25, '')}}}.{_MARK}{name}{{{_told('fill', ground)}}}")
    return (
        f"svg{{{_variables(0)}}}{''.join(rules)}"
        f"@media screen and (prefers-color-scheme:dark){{svg{{{_variables(1)}}}}}@media print{{.sheet{{fill:none}}}}"
    )


def hatches(styles: Iterable[str]) -> str:
    """The patterns that some styles are filled with, as they stand in a drawing's definitions."""
    names = sorted({name for name in styles if name in _HATCHED and _HATCHED[name][1]})
    return f"<defs>{''.join(map(_pattern, names))}</defs>\n" if names else ""


def _pattern(name: str) -> str:
    _, side, signs = _HATCHED[name]
    size = f'width="{side:g}" height="{side:g}"'
    shown = "".join(_sign(sign) for sign in signs.split(";"))
    ground = f'<rect class="{_MARK}{name}" {size}/>'
    return f'<pattern id="{_MARK}{name}" patternUnits="userSpaceOnUse" {size}>{ground}{shown}</pattern>'


def _sign(sign: str) -> str:
    kind, points = sign[0], sign[1:]
    if kind == "l":
        return _line(points)
    x, _, rest = points.partition(",")
    y, _, radius = rest.partition(" ")
    style = "line" if radius else "dot"
    return f'<circle class="{_MARK}{style}" cx="{x}" cy="{y}" r="{radius or 0.18}"/>'


def _line(points: str) -> str:
    told = " L ".join(point.replace(",", " ") for point in points.split())
    return f'<path class="{_MARK}line" d="M {told}"/>'


def _variables(at: int) -> str:
    return ";".join(f"--{name}:{colours[at]}" for name, colours in _PALETTE.items())


def _told(what: str, name: str) -> str:
    return f"{what}:none" if name == "none" else f"{what}:{_PALETTE[name][0]};{what}:var(--{name})"


def _stroke(name: str, weight: float, dashes: str) -> str:
    if name == "none":
        return ""
    dashed = f";stroke-dasharray:{dashes}" if dashes else ""
    return f";{_told('stroke', name)};stroke-width:{weight:g}{dashed}"
