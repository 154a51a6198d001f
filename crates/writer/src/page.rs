//! The paper: its size and margins (`defaults`), and where the music begins
//! on it.
//!
//! Lengths are thought of in tenths of a millimetre, as in [`Page`], and
//! written in tenths of a staff space, forty to the staff (MusicXML 4.0
//! `scaling`).

use score::{Break, Page};

use crate::sink::Sink;

/// Scaling, paper and margins.
pub(crate) fn defaults(sink: &mut Sink<'_>, page: Page, concert: bool) {
    sink.put("  <defaults>\n    <scaling>\n      <millimeters>");
    sink.decimal(staff_height(page), 1);
    sink.put("</millimeters>\n      <tenths>40</tenths>\n    </scaling>\n");
    if concert {
        sink.put("    <concert-score/>\n");
    }
    sink.put("    <page-layout>\n      <page-height>");
    length(sink, page, u32::from(page.height));
    sink.put("</page-height>\n      <page-width>");
    length(sink, page, u32::from(page.width));
    sink.put("</page-width>\n      <page-margins type=\"both\">\n        <left-margin>");
    length(sink, page, margin(page));
    sink.put("</left-margin>\n        <right-margin>");
    length(sink, page, margin(page));
    sink.put("</right-margin>\n        <top-margin>");
    length(sink, page, margin(page));
    sink.put("</top-margin>\n        <bottom-margin>");
    length(sink, page, margin(page));
    sink.put("</bottom-margin>\n      </page-margins>\n    </page-layout>\n  </defaults>\n");
}

/// The first measure's `print`: its staff stands that far below the top
/// margin.
pub(crate) fn first_print(sink: &mut Sink<'_>, page: Page, down: u32, begins: Option<Break>) {
    sink.put(match begins {
        None => "      <print>\n",
        Some(Break::System) => "      <print new-system=\"yes\">\n",
        Some(Break::Page) => "      <print new-page=\"yes\">\n",
    });
    sink.put("        <system-layout>\n          <top-system-distance>");
    length(sink, page, down);
    sink.put("</top-system-distance>\n        </system-layout>\n      </print>\n");
}

/// Tenths of a millimetre as tenths of a staff space, to two places.
pub(crate) fn length(sink: &mut Sink<'_>, page: Page, tenths_of_mm: u32) {
    let staff = staff_height(page);
    sink.decimal((u64::from(tenths_of_mm) * 4_000 + staff / 2) / staff, 2);
}

/// White around the music, in tenths of a millimetre: 15 mm, less only on a
/// slip of paper.
pub(crate) fn margin(page: Page) -> u32 {
    u32::from(page.width.min(page.height) / 8).min(150)
}

fn staff_height(page: Page) -> u64 {
    u64::from(page.staff_height.max(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_in_tenths_of_a_staff_space() {
        let check = |staff_height, tenths_of_mm, expected: &str| {
            let mut out = Vec::new();
            let page = Page {
                staff_height,
                width: 2_100,
                height: 2_970,
            };
            length(&mut Sink::new(&mut out), page, tenths_of_mm);
            assert_eq!(
                String::from_utf8(out).unwrap(),
                expected,
                "{tenths_of_mm} at {staff_height}"
            );
        };
        // Arithmetic: a staff is forty tenths high.
        check(70, 70, "40");
        check(70, 2_970, "1697.14");
        check(70, 2_100, "1200");
        check(80, 2_159, "1079.5");
        check(75, 1, "0.53");
        check(70, 0, "0");
        check(0, 3, "120");
    }

    #[test]
    fn margins_leave_room_on_any_paper() {
        let check = |width, height, expected| {
            assert_eq!(
                margin(Page {
                    staff_height: 70,
                    width,
                    height
                }),
                expected
            );
        };
        check(2_100, 2_970, 150);
        check(2_159, 2_794, 150);
        check(800, 1_000, 100);
        check(0, 0, 0);
    }
}
