//! What may surprise of a lesson's tracks, told before they are made.

use etude::Composer;
use sound::Click;

use crate::track_version::{style_word, versions};

/// A sentence for each: a style where some bars have no pattern for it, a
/// click on 2 and 4 where no bar has four beats, a track of all keys where
/// there is one key.
pub fn track_remarks(composer: &Composer<'_>) -> Vec<String> {
    let lesson = composer.lesson();
    let Some(take) = versions(lesson).first().map(|version| version.take) else {
        return Vec::new();
    };
    let mut remarks = Vec::new();
    let sheets = composer.plans().iter();
    let sheet = sheets.filter_map(|plan| composer.compose(plan).ok()).next();
    let measures = sheet
        .map(|sheet| sheet.score.part.measures)
        .unwrap_or_default();
    let meters = || measures.iter().filter_map(|measure| measure.meter.as_ref());
    if let (Some(style), Some(said)) = (take.style, lesson.track.style) {
        let mut without: Vec<String> = meters()
            .filter(|meter| !style.fits(meter))
            .map(ToString::to_string)
            .collect();
        without.sort();
        without.dedup();
        if !without.is_empty() {
            remarks.push(format!(
                "tracks: {} has no pattern in {}; bars in it are played plain",
                style_word(said),
                without.join(" and ")
            ));
        }
    }
    let four = meters().any(|meter| (meter.upper(), meter.lower()) == (4, 4));
    if take.click == Some(Click::TwoAndFour) && !four {
        remarks.push("tracks: no bar has four beats, so all beats are clicked".to_owned());
    }
    remarks.extend(one_key(composer));
    remarks
}

/// That all keys are one key, if they are asked for.
pub fn one_key(composer: &Composer<'_>) -> Option<String> {
    let lesson = composer.lesson();
    let asked = lesson.track.forms.contains(&lesson::TrackForm::AllKeys);
    let most = (0..lesson.players.len())
        .map(|player| {
            composer
                .plans()
                .iter()
                .filter(|plan| plan.player == player)
                .count()
        })
        .max();
    (asked && most.is_some_and(|most| most < 2)).then(|| {
        "tracks: there is one key, so \"all keys\" is the sheet's own track and isn't made again"
            .to_owned()
    })
}
