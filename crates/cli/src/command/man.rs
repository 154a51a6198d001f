//! `man`: the manual's pages, one to each command.

use std::fs;
use std::io::Write;
use std::path::Path;

use anyhow::Context;
use clap::CommandFactory;

use crate::args::Args;
use crate::exit::Exit;

pub fn run(folder: &Path, out: &mut impl Write) -> anyhow::Result<Exit> {
    let refused = || format!("could not write the manual into {}", folder.display());
    fs::create_dir_all(folder).with_context(refused)?;
    clap_mangen::generate_to(Args::command(), folder).with_context(refused)?;
    let shown = folder.join("twelvefold.1");
    let shown = shown.display();
    writeln!(out, "{shown}\nnow try: man {shown}")?;
    Ok(Exit::Done)
}
