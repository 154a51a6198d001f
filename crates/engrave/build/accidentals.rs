//! A font of ♭ ♮ ♯ alone, out of one of five thousand signs that is a megabyte.
//! Its licence lets what is changed go on under another name.

use subsetter::GlyphRemapper;
use ttf_parser::Face;
use ttf_parser::name_id::COPYRIGHT_NOTICE;

use crate::said;

/// One after another in Unicode.
const ACCIDENTALS: [char; 3] = ['♭', '♮', '♯'];

const FAMILY: &str = "Twelvefold Accidentals";

/// The font, in a style: OpenType, the outlines, advances and heights its
/// source has.
pub fn font(source: &[u8], style: &str) -> Vec<u8> {
    let face = Face::parse(source, 0).expect("a font");
    let mut kept = GlyphRemapper::new();
    let glyphs = ACCIDENTALS.map(|sign| {
        let glyph = face.glyph_index(sign).expect("the font has accidentals");
        kept.remap(glyph.0)
    });
    // Its outlines and measures; the rest is what a PDF does without.
    let outlines = subsetter::subset(source, 0, &kept).expect("its glyphs are taken out");
    let outlines = Face::parse(&outlines, 0).expect("a font of glyphs");
    let copied = |face: &Face<'_>, tag: &[u8; 4]| {
        let table = face.raw_face().table(ttf_parser::Tag::from_bytes(tag));
        (*tag, table.expect("the font's table").to_vec())
    };
    let mut tables: Vec<([u8; 4], Vec<u8>)> = [b"CFF ", b"head", b"hhea", b"hmtx", b"maxp"]
        .map(|tag| copied(&outlines, tag))
        .into();
    tables.push(copied(&face, b"OS/2"));
    let copyright = said(&face, COPYRIGHT_NOTICE).expect("whose the outlines are");
    tables.push((*b"cmap", cmap(glyphs)));
    tables.push((*b"name", name(style, &copyright)));
    tables.push((*b"post", post()));
    tables.sort();
    file(tables)
}

/// Which glyph a character has: one segment of them, and the one that ends the
/// list (OpenType, `cmap` format 4).
fn cmap(glyphs: [u16; 3]) -> Vec<u8> {
    let [first, _, last] = ACCIDENTALS.map(|sign| u16::try_from(u32::from(sign)).expect("BMP"));
    let follow = |pair: &[u16]| pair[1] == pair[0] + 1;
    assert!(glyphs.windows(2).all(follow), "glyphs in order");
    let windows_unicode: [u16; 6] = [0, 1, 3, 1, 0, 12];
    let segments: [u16; 16] = [
        4,
        32,
        0, // format, length, language
        4,
        4,
        1,
        0, // two segments, for a binary search
        last,
        0xFFFF,
        0, // ends
        first,
        0xFFFF, // starts
        glyphs[0].wrapping_sub(first),
        1, // what is added
        0,
        0, // no lists of their own
    ];
    let all = windows_unicode.iter().chain(&segments);
    all.flat_map(|number| number.to_be_bytes()).collect()
}

/// Its names, in English, for Windows (OpenType, `name` version 0).
fn name(style: &str, copyright: &str) -> Vec<u8> {
    let whole = format!("{FAMILY} {style}");
    let postscript = format!("{}-{style}", FAMILY.replace(' ', ""));
    let names: [(u16, &str); 8] = [
        (0, copyright),
        (1, FAMILY),
        (2, style),
        (3, &postscript),
        (4, &whole),
        (5, "Version 1.000"),
        (6, &postscript),
        (13, "GUST Font License; changed, and therefore renamed"),
    ];
    let mut records: Vec<u16> = vec![0, names.len() as u16, 6 + 12 * names.len() as u16];
    let mut letters: Vec<u16> = Vec::new();
    for (what, said) in names {
        let from = 2 * letters.len() as u16;
        letters.extend(said.encode_utf16());
        let length = 2 * letters.len() as u16 - from;
        records.extend([3, 1, 0x0409, what, length, from]);
    }
    let all = records.iter().chain(&letters);
    all.flat_map(|number| number.to_be_bytes()).collect()
}

/// For printers: no names of glyphs (OpenType, `post` version 3).
fn post() -> Vec<u8> {
    let mut table = vec![0, 3, 0, 0];
    table.resize(32, 0);
    table
}

/// The tables as a file, each with its sum (OpenType, "Organization of an
/// OpenType font").
fn file(mut tables: Vec<([u8; 4], Vec<u8>)>) -> Vec<u8> {
    let count = tables.len() as u16;
    let search = count.ilog2();
    let mut file = b"OTTO".to_vec();
    let numbers = [
        count,
        16 << search,
        search as u16,
        16 * count - (16 << search),
    ];
    file.extend(numbers.iter().flat_map(|number| number.to_be_bytes()));
    let mut from = 12 + 16 * tables.len();
    let mut head = 0;
    for (tag, table) in &mut tables {
        let length = table.len();
        table.resize(length.next_multiple_of(4), 0);
        if tag == b"head" {
            // The file's own sum is reckoned with none in its place.
            table[8..12].fill(0);
            head = from;
        }
        file.extend(*tag);
        for number in [sum(table), from as u32, length as u32] {
            file.extend(number.to_be_bytes());
        }
        from += table.len();
    }
    file.extend(tables.into_iter().flat_map(|(_, table)| table));
    let whole = 0xB1B0_AFBA_u32.wrapping_sub(sum(&file));
    file[head + 8..head + 12].copy_from_slice(&whole.to_be_bytes());
    file
}

fn sum(bytes: &[u8]) -> u32 {
    let words = bytes.chunks_exact(4);
    words.fold(0, |sum: u32, word| {
        sum.wrapping_add(u32::from_be_bytes([word[0], word[1], word[2], word[3]]))
    })
}
