//! How far a run is: a bar on a terminal, a line now and then elsewhere.

use std::io::{self, IsTerminal};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::console::Console;

/// How often a line is said where no bar can be drawn: seldom, for logs.
const INTERVAL: Duration = Duration::from_secs(30);

const LOOK: &str = "{bar:30} {human_pos} of {human_len} sheets, {per_sec}, {eta} left";

/// Counts sheets, and shows the count.
pub struct Progress<'a> {
    console: &'a Console,
    shown: ProgressView,
    begun: Instant,
    total: u64,
    sheets: AtomicU64,
    bars: AtomicU64,
}

enum ProgressView {
    Bar(ProgressBar),
    Lines(Mutex<Instant>),
    Nothing,
}

impl<'a> Progress<'a> {
    pub fn new(console: &'a Console, total: usize, quiet: bool) -> Progress<'a> {
        let begun = Instant::now();
        let shown = if quiet {
            ProgressView::Nothing
        } else if io::stderr().is_terminal() {
            ProgressView::Bar(bar(total as u64))
        } else {
            ProgressView::Lines(Mutex::new(begun))
        };
        Progress {
            console,
            shown,
            begun,
            total: total as u64,
            sheets: AtomicU64::new(0),
            bars: AtomicU64::new(0),
        }
    }

    /// A sheet was made, so many bars long.
    pub fn sheet(&self, bars: u32) {
        let sheets = 1 + self.sheets.fetch_add(1, Ordering::Relaxed);
        self.bars.fetch_add(u64::from(bars), Ordering::Relaxed);
        match &self.shown {
            ProgressView::Bar(bar) => bar.set_position(sheets),
            ProgressView::Lines(last) => {
                let mut last = last.lock().unwrap_or_else(PoisonError::into_inner);
                if last.elapsed() >= INTERVAL {
                    *last = Instant::now();
                    let line = format!("{sheets} of {} sheets", self.total);
                    self.console.remark(&line);
                }
            }
            ProgressView::Nothing => {}
        }
    }

    /// Says something without a bar in the way.
    pub fn aside<T>(&self, say: impl FnOnce() -> T) -> T {
        match &self.shown {
            ProgressView::Bar(bar) => bar.suspend(say),
            ProgressView::Lines(_) | ProgressView::Nothing => say(),
        }
    }

    /// What takes the bar away, from wherever the run is ended.
    pub fn clear(&self) -> impl Fn() + Send + 'static {
        let bar = match &self.shown {
            ProgressView::Bar(bar) => Some(bar.clone()),
            ProgressView::Lines(_) | ProgressView::Nothing => None,
        };
        move || {
            if let Some(bar) = &bar {
                bar.finish_and_clear();
            }
        }
    }

    /// Takes the bar away.
    pub fn end(&self) {
        if let ProgressView::Bar(bar) = &self.shown {
            bar.finish_and_clear();
        }
    }

    /// The closing line: sheets, bars, megabytes, seconds.
    pub fn sum(&self, bytes: u64) -> String {
        let hundredths = self.begun.elapsed().as_millis() / 10;
        let tenths = bytes / 100_000;
        format!(
            "{} sheets, {} bars, {}.{} MB in {}.{:02} s",
            self.sheets.load(Ordering::Relaxed),
            self.bars.load(Ordering::Relaxed),
            tenths / 10,
            tenths % 10,
            hundredths / 100,
            hundredths % 100
        )
    }
}

fn bar(total: u64) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(total), ProgressDrawTarget::stderr());
    match ProgressStyle::with_template(LOOK) {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}
