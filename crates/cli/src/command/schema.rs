//! `schema`: a JSON Schema of lesson files, so that editors complete and check
//! them, or of what is printed or kept as JSON, so that scripts can.

use std::borrow::Cow;
use std::io::Write;

use crate::args::SchemaOf;
use crate::exit::Exit;

pub fn run(of: SchemaOf, out: &mut impl Write) -> anyhow::Result<Exit> {
    out.write_all(text(of).as_bytes())?;
    Ok(Exit::Done)
}

fn text(of: SchemaOf) -> Cow<'static, str> {
    Cow::Borrowed(match of {
        SchemaOf::Lesson => return Cow::Owned(lesson_text::lesson_schema()),
        SchemaOf::Course => return Cow::Owned(lesson_text::course_schema()),
        SchemaOf::Sheets => include_str!("../schema/sheets.json"),
        SchemaOf::Check => include_str!("../schema/check.json"),
        SchemaOf::List => include_str!("../schema/list.json"),
        SchemaOf::Spell => include_str!("../schema/spell.json"),
        SchemaOf::Contents => include_str!("../schema/contents.json"),
    })
}
