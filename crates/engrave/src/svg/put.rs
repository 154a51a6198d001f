//! Texts and numbers put after each other, without format strings: a page is
//! thousands of them.

use std::fmt::Write;

use rhythm::Fraction;
use score::MeasureLabel;

use crate::escape::escape;
use crate::place::{Ink, Point};

/// Puts everything named after a string.
macro_rules! put {
    ($svg:expr, $($piece:expr),+ $(,)?) => {
        $( $crate::svg::put::Put::put($piece, $svg); )+
    };
}
pub(super) use put;

/// What can be put.
pub(super) trait Put {
    fn put(self, svg: &mut String);
}

impl Put for &str {
    fn put(self, svg: &mut String) {
        svg.push_str(self);
    }
}

macro_rules! numbers {
    ($($number:ty),+) => {
        $( impl Put for $number {
            fn put(self, svg: &mut String) {
                svg.push_str(itoa::Buffer::new().format(self));
            }
        } )+
    };
}
numbers!(u16, i32, i64, usize);

/// Two numbers, a space between.
impl Put for Point {
    fn put(self, svg: &mut String) {
        put!(svg, self.0, " ", self.1);
    }
}

/// As it is printed.
impl Put for Fraction {
    fn put(self, svg: &mut String) {
        self.numer().put(svg);
        if *self.denom() != 1 {
            put!(svg, "/", *self.denom());
        }
    }
}

/// As it is told.
impl Put for MeasureLabel {
    fn put(self, svg: &mut String) {
        // Writing to a string can't fail.
        let _ = write!(svg, "{self}");
    }
}

/// Text as XML lets it stand.
pub(super) struct EscapedText<'a>(pub(super) &'a str);

impl Put for EscapedText<'_> {
    fn put(self, svg: &mut String) {
        svg.push_str(&escape(self.0));
    }
}

/// A character's number in hexadecimal, of four figures or more.
pub(super) struct Code(pub(super) u32);

impl Put for Code {
    fn put(self, svg: &mut String) {
        let figures = (8 - self.0.leading_zeros() / 4).max(4);
        for place in (0..figures).rev() {
            let figure = char::from_digit(self.0 >> (4 * place) & 15, 16);
            svg.extend(figure.map(|figure| figure.to_ascii_uppercase()));
        }
    }
}

/// A number in so many decimal places.
pub(super) struct Decimal(pub(super) i64, pub(super) u32);

impl Put for Decimal {
    fn put(self, svg: &mut String) {
        let unit = 10_i64.pow(self.1);
        let part = self.0 % unit;
        put!(svg, self.0 / unit, ".");
        let figures = part.checked_ilog10().unwrap_or(0) + 1;
        svg.extend((figures..self.1).map(|_| '0'));
        part.put(svg);
    }
}

/// A box's corner, width and height, as attributes.
pub(super) struct Area(pub(super) Ink);

impl Put for Area {
    fn put(self, svg: &mut String) {
        let ink = self.0;
        put!(svg, " x=\"", ink.left, "\" y=\"", ink.top);
        put!(svg, "\" width=\"", ink.right - ink.left);
        put!(svg, "\" height=\"", ink.bottom - ink.top, "\"");
    }
}

/// How a line is drawn that is so thick, as attributes.
pub(super) struct Drawn(pub(super) i32);

impl Put for Drawn {
    fn put(self, svg: &mut String) {
        put!(svg, " stroke=\"#000\" stroke-width=\"", self.0, "\"");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_a_format_string_has_it() {
        let check = |put: &dyn Fn(&mut String), expected: String| {
            let mut svg = String::new();
            put(&mut svg);
            assert_eq!(svg, expected);
        };
        for number in [i32::MIN, -10, 0, 7, 2_000_000_000] {
            check(&|svg| number.put(svg), number.to_string());
        }
        for code in [0, 0xE0A4, 0xECA5, 0x1D12A, u32::MAX] {
            check(&|svg| Code(code).put(svg), format!("{code:04X}"));
        }
        for (whole, part) in [(0, 0), (1, 5), (2, 75), (1, 750), (17, 1)] {
            check(
                &|svg| Decimal(1000 * whole + part, 3).put(svg),
                format!("{whole}.{part:03}"),
            );
        }
        for fraction in [
            Fraction::new(3, 2),
            Fraction::new(-1, 3),
            Fraction::new(4, 2),
        ] {
            check(&|svg| fraction.put(svg), fraction.to_string());
        }
    }
}
