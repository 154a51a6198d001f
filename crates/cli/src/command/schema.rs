//! `schema`: a JSON Schema of what is printed or kept as JSON, so that scripts
//! can look fields up and check what they get.

use std::io::Write;

use crate::args::SchemaOf;
use crate::exit::Exit;

pub fn run(of: SchemaOf, out: &mut impl Write) -> anyhow::Result<Exit> {
    out.write_all(text(of).as_bytes())?;
    Ok(Exit::Done)
}

fn text(of: SchemaOf) -> &'static str {
    match of {
        SchemaOf::Sheets => include_str!("../schema/sheets.json"),
        SchemaOf::Check => include_str!("../schema/check.json"),
        SchemaOf::List => include_str!("../schema/list.json"),
        SchemaOf::Spell => include_str!("../schema/spell.json"),
        SchemaOf::Contents => include_str!("../schema/contents.json"),
    }
}
