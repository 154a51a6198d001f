//! Takes out of fonts in packages what pages are made of, and leaves it beside
//! what is compiled: glyphs in `glyph_table.rs`, the fonts of text in a file
//! each. What is missing there stops the build.
// Cargo is told by what is printed.
#![allow(clippy::expect_used, clippy::panic, clippy::print_stdout)]

mod accidentals;
mod glyphs;

use std::path::Path;
use std::{env, fs};

use ttf_parser::Face;
use ttf_parser::name_id::POST_SCRIPT_NAME;

/// The fonts of text by their PostScript names, which their files take.
const FONTS: [&str; 6] = [
    "LibertinusSerif-Regular",
    "LibertinusSerif-Italic",
    "LibertinusSerif-Bold",
    "LibertinusSerif-BoldItalic",
    "DejaVuSansMono",
    "DejaVuSansMono-Bold",
];

fn main() {
    println!("cargo:rerun-if-changed=build");
    let folder = env::var("OUT_DIR").expect("cargo says where");
    let write = |name: &str, bytes: &[u8]| {
        fs::write(Path::new(&folder).join(name), bytes).expect("it is written");
    };
    write("glyph_table.rs", glyphs::table().as_bytes());
    for name in FONTS {
        write(name, font(name));
    }
    for style in ["Regular", "Bold"] {
        let font = font(&format!("NewCMMath-{style}"));
        let name = format!("TwelvefoldAccidentals-{style}");
        write(&name, &accidentals::font(font, style));
    }
}

fn font(name: &str) -> &'static [u8] {
    let named = |font: &&[u8]| {
        let face = Face::parse(font, 0).ok()?;
        said(&face, POST_SCRIPT_NAME)
    };
    let font = typst_assets::fonts().find(|font| named(font).as_deref() == Some(name));
    font.unwrap_or_else(|| panic!("no font {name}"))
}

/// What a font says of itself.
fn said(face: &Face<'_>, what: u16) -> Option<String> {
    let mut names = face.names().into_iter();
    let name = names.find(|name| name.name_id == what && name.is_unicode());
    name?.to_string()
}
