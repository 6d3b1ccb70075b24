//! Our inks in the colours of the terminal: as many as it has, and none where none are wanted.

use cursive::theme::{BaseColor, Color, ColorStyle, Effect, Style};
use shakmaty::Color as Side;

use crate::tui::widgets::canvas::{TextStyle, TextTone};

/// How many colours there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colours {
    None,
    #[default]
    Sixteen,
    Palette,
    True,
}

impl Colours {
    /// From the environment. `NO_COLOR` counts when it is not empty (no-color.org); `COLORTERM` and
    /// `TERM` as is common practice.
    #[must_use]
    pub fn of(variable: &dyn Fn(&str) -> Option<String>) -> Self {
        let value = |name| variable(name).unwrap_or_default();
        if !value("NO_COLOR").is_empty() {
            Self::None
        } else if matches!(value("COLORTERM").as_str(), "truecolor" | "24bit") {
            Self::True
        } else if value("TERM").contains("256color") {
            Self::Palette
        } else {
            Self::Sixteen
        }
    }

    /// A style of ours as the terminal library wants it.
    #[must_use]
    pub fn style(self, text: TextStyle) -> Style {
        let mut style = Style::from(self.colour(text.tone));
        let effects = [
            (text.bold, Effect::Bold),
            (text.underlined, Effect::Underline),
            (text.struck, Effect::Strikethrough),
            (text.turned, Effect::Reverse),
            (text.tone == TextTone::Quiet, Effect::Dim),
        ];
        for (wanted, effect) in effects {
            if wanted {
                style = style.combine(effect);
            }
        }
        style
    }

    fn colour(self, tone: TextTone) -> ColorStyle {
        let plain = Color::TerminalDefault;
        let front = |colour| ColorStyle::new(colour, plain);
        match (self, tone) {
            (Self::None, _) | (_, TextTone::Plain | TextTone::Quiet) => front(plain),
            (Self::Sixteen, TextTone::Accent) => front(Color::Dark(BaseColor::Cyan)),
            (Self::Sixteen, TextTone::Alert) => front(Color::Dark(BaseColor::Red)),
            // Readable on a dark and on a light ground.
            (Self::Palette, TextTone::Accent) => front(Color::RgbLowRes(0, 2, 3)),
            (Self::Palette, TextTone::Alert) => front(Color::RgbLowRes(4, 1, 0)),
            (Self::True, TextTone::Accent) => front(Color::Rgb(20, 130, 160)),
            (Self::True, TextTone::Alert) => front(Color::Rgb(200, 95, 40)),
            (_, TextTone::Square { light, piece }) => {
                ColorStyle::new(self.man(piece), self.square(light))
            }
        }
    }

    /// Sand and slate: both of middle lightness, so that white and black men stand out on either
    /// (contrast by WCAG 2.1, 1.4.3, at least 3 to 1; tested below).
    fn square(self, light: bool) -> Color {
        match (self, light) {
            (Self::True, true) => Color::Rgb(150, 138, 114),
            (Self::True, false) => Color::Rgb(88, 102, 118),
            (Self::Palette, true) => Color::RgbLowRes(2, 2, 1),
            (Self::Palette, false) => Color::RgbLowRes(1, 1, 2),
            (_, true) => Color::Dark(BaseColor::Cyan),
            (_, false) => Color::Dark(BaseColor::Magenta),
        }
    }

    fn man(self, piece: Option<Side>) -> Color {
        match (self, piece) {
            (Self::Sixteen, Some(Side::White)) => Color::Light(BaseColor::White),
            (Self::Palette, Some(Side::White)) => Color::RgbLowRes(5, 5, 5),
            (Self::Palette, _) => Color::RgbLowRes(0, 0, 0),
            (Self::True, Some(Side::White)) => Color::Rgb(255, 255, 255),
            (Self::True, _) => Color::Rgb(0, 0, 0),
            _ => Color::Dark(BaseColor::Black),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn colours(pairs: &[(&str, &str)]) -> Colours {
        Colours::of(&|name| {
            let found = pairs.iter().find(|(n, _)| *n == name);
            found.map(|(_, value)| (*value).to_owned())
        })
    }

    #[test]
    fn the_environment_decides() {
        assert_eq!(colours(&[("TERM", "xterm")]), Colours::Sixteen);
        assert_eq!(colours(&[("TERM", "tmux-256color")]), Colours::Palette);
        let both = [("TERM", "xterm-256color"), ("COLORTERM", "truecolor")];
        assert_eq!(colours(&both), Colours::True);
        assert_eq!(
            colours(&[("NO_COLOR", "1"), ("COLORTERM", "truecolor")]),
            Colours::None
        );
        assert_eq!(colours(&[("NO_COLOR", "")]), Colours::Sixteen);
    }

    /// Relative luminance and contrast as WCAG 2.1 defines them (W3C, 2018).
    fn luminance(colour: Color) -> f64 {
        let (r, g, b) = match colour {
            Color::Rgb(r, g, b) => (r, g, b),
            Color::RgbLowRes(r, g, b) => {
                let level = |n: u8| if n == 0 { 0 } else { 55 + 40 * n };
                (level(r), level(g), level(b))
            }
            other => panic!("{other:?} depends on the terminal"),
        };
        let part = |v: u8| {
            let v = f64::from(v) / 255.0;
            if v <= 0.039_28 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b)
    }

    fn front_of(style: ColorStyle) -> Color {
        match style.front {
            cursive::theme::ColorType::Color(colour) => colour,
            other => panic!("{other:?} depends on the theme"),
        }
    }

    /// 3 to 1, as for large text (1.4.3): what they say never depends on the colour.
    #[test]
    fn coloured_words_are_read_on_a_dark_and_on_a_light_ground() {
        for depth in [Colours::True, Colours::Palette] {
            for tone in [TextTone::Accent, TextTone::Alert] {
                let own = luminance(front_of(depth.colour(tone)));
                for ground in [0.0, 1.0] {
                    let (high, low) = (f64::max(own, ground), f64::min(own, ground));
                    let contrast = (high + 0.05) / (low + 0.05);
                    assert!(
                        contrast >= 3.0,
                        "{depth:?} {tone:?} {ground}: {contrast:.2}"
                    );
                }
            }
        }
    }

    #[test]
    fn men_stand_out_on_every_square() {
        for depth in [Colours::True, Colours::Palette] {
            for light in [true, false] {
                for side in [Side::White, Side::Black] {
                    let back = luminance(depth.square(light));
                    let front = luminance(depth.man(Some(side)));
                    let (high, low) = (back.max(front), back.min(front));
                    let contrast = (high + 0.05) / (low + 0.05);
                    assert!(contrast >= 3.0, "{depth:?} {light} {side:?}: {contrast:.2}");
                }
            }
        }
    }
}
