//! `desk`: a page in the browser over a folder of lessons.

use crate::args::DeskArgs;
use crate::console::Console;
use crate::exit::Exit;

pub fn run(args: &DeskArgs, console: &Console) -> anyhow::Result<Exit> {
    let desk = desk::Desk {
        place: args.place.clone(),
        port: args.port,
        out: args.out.clone(),
        soundfont: args.soundfont.clone(),
        opens: !args.no_browser,
    };
    desk::run(&desk, |words| console.remark(words))?;
    Ok(Exit::Done)
}
