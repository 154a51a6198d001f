//! A shell that completes words calls the program itself: how it comes to do
//! so, and the answer.

use std::io::{self, Write};

use clap::CommandFactory;
use clap_complete::CompleteEnv;
use clap_complete::env::Shells;

use crate::args::Args;
use crate::completion::Shell;

/// The variable by which a shell asks.
const ASKED: &str = "TWELVEFOLD_COMPLETE";

/// Answers a shell that asks; then the program ends here.
pub fn answer() {
    CompleteEnv::with_factory(Args::command)
        .var(ASKED)
        .complete();
}

/// Prints what makes a shell ask from now on.
pub fn register(shell: Shell, out: &mut dyn Write) -> io::Result<()> {
    let name = match shell {
        Shell::Bash => "bash",
        Shell::Zsh => "zsh",
        Shell::Fish => "fish",
        Shell::Powershell => "powershell",
    };
    let shells = Shells::builtins();
    let Some(completer) = shells.completer(name) else {
        return Err(io::Error::other(format!("{name} can't be completed")));
    };
    let command = "twelvefold";
    completer.write_registration(ASKED, command, command, command, out)
}
