//! Ctrl-C, or the system's polite word, stops a run: it ends by itself where it
//! can at once, and is ended where it can't. Files are whole through any kill,
//! so nothing is lost by that. A second Ctrl-C doesn't wait.

use std::io;
use std::process;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

use copyist::{CopyError, Stop};
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;

use crate::console::Console;
use crate::exit::Exit;

/// How often it is looked whether the person asked to stop.
const LOOK: Duration = Duration::from_millis(25);

/// How long a run may take to end by itself.
const GRACE: Duration = Duration::from_millis(200);

/// Whether it was said that the run stopped.
static SAID: AtomicBool = AtomicBool::new(false);

/// Hears the signals from now on, and asks a run to stop. `clear` takes away
/// what stands on the terminal, should the run have to be ended.
pub fn hear(stop: &Stop, clear: impl Fn() + Send + 'static) -> io::Result<()> {
    for signal in [SIGINT, SIGTERM] {
        // In this order, so that the first only asks.
        flag::register_conditional_shutdown(signal, Exit::Stopped as i32, stop.flag())?;
        flag::register(signal, stop.flag())?;
    }
    // A file larger than allowed is then an error with a message, not the end
    // of the process.
    #[cfg(unix)]
    flag::register(signal_hook::consts::SIGXFSZ, std::sync::Arc::default())?;
    let asked = stop.clone();
    thread::spawn(move || {
        while !asked.is_asked() {
            thread::sleep(LOOK);
        }
        thread::sleep(GRACE);
        clear();
        say_stopped(&Console::on_stderr());
        process::exit(Exit::Stopped as i32);
    });
    Ok(())
}

/// Says once that the run stopped, and what that means.
pub fn say_stopped(console: &Console) {
    if !SAID.swap(true, Ordering::SeqCst) {
        console.remark(&CopyError::Stopped.to_string());
    }
}
