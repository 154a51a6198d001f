//! The feel: straight, or swing, and how much of it.

use lesson::{Feel, Swing};

use crate::language::choice::{choice_help, folded};
use crate::language::words::FEELS;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;

/// Reads a feel, or says what may stand there.
pub(crate) fn feel(text: &Text, report: &mut Report<'_>) -> Option<Feel> {
    let typed = folded(&text.value);
    match typed.as_str() {
        "straight" => return Some(Feel::Straight),
        "swing" => return Some(Feel::Swing(Swing::default())),
        "swing auto" => return Some(Feel::Swing(Swing::ByTempo)),
        _ => {}
    }
    let parts = typed.strip_prefix("swing").and_then(parts);
    if let Some((long, short)) = parts {
        if let Some(swing) = ratio(long, short) {
            return Some(Feel::Swing(swing));
        }
        report.mistake(
            &text.span,
            format!("swing can't be {long}:{short}"),
            format!(
                "the first eighth is as long as the second or up to three times as long, in whole \
                 numbers up to {}: \"swing 2:1\"",
                limit::SWING_PARTS
            ),
        );
        return None;
    }
    report.mistake(
        &text.span,
        format!("feel can't be {}", shown(&text.value)),
        choice_help(&typed, &FEELS),
    );
    None
}

/// Two whole numbers with a colon between them.
fn parts(words: &str) -> Option<(u32, u32)> {
    let (long, short) = words.split_once(':')?;
    Some((long.trim().parse().ok()?, short.trim().parse().ok()?))
}

fn ratio(long: u32, short: u32) -> Option<Swing> {
    let (long, short) = (u8::try_from(long).ok()?, u8::try_from(short).ok()?);
    let fits = (1..=long).contains(&short)
        && long <= limit::SWING_PARTS
        && u16::from(long) <= 3 * u16::from(short);
    fits.then_some(Swing::Ratio { long, short })
}
