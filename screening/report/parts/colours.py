"""The colours of drawings, tables and verdicts. Each says again what a sign, a word or a dash says too."""

from __future__ import annotations

from dataclasses import dataclass

from screening.judgement.choice.verdict import FAILS, GAMBLE, LASTS, SHORT, UNKNOWN

RANGE, MARK, WARM, COOL, GREY = "#5b92cc", "#2f6fb8", "#c8641e", "#3f7f93", "#808080"
"""Lines and bands of drawings; they hold 3:1 on light and dark grounds. Letters have the colour of the text around them."""


@dataclass(frozen=True)
class Ink:
    """The colour of a word on a light and on a dark ground, and its style class."""

    style_class: str
    on_light: str
    on_dark: str

    @property
    def style(self) -> str:
        """The rule of a style sheet that colours the class; an old browser takes the colour for light grounds."""
        return f".{self.style_class}{{color:{self.on_light};color:light-dark({self.on_light},{self.on_dark})}}"


VERDICT_INKS = {
    LASTS: Ink("lasts", "#0b6e4f", "#5fd3a6"),
    SHORT: Ink("short", "#7a5200", "#f0c060"),
    GAMBLE: Ink("gamble", "#8a3d00", "#f5a25d"),
    FAILS: Ink("fails", "#a3231f", "#ff9a92"),
    UNKNOWN: Ink("unknown", "#56606c", "#a5afbb"),
}
"""The ink of each verdict's word; they hold 4.5:1 on their grounds."""
