//! A page for each player to practise with: `alto-saxophone/practice.html`.

use etude::{Composer, SheetPlan};
use practice::{PracticePage, PracticeSheet};
use rayon::prelude::*;
use sound::{Take, perform};

use crate::error::CopyError;
use crate::folder_file::FolderFile;
use crate::pictures::Pictures;
use crate::stop::Stop;
use crate::track_version::take;

/// A page for each player who has any sheets.
pub fn practice_pages(
    composer: &Composer<'_>,
    plans: &[SheetPlan],
    folders: &[String],
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Vec<FolderFile>, CopyError> {
    let players = (0..composer.lesson().players.len()).into_par_iter();
    let pages: Vec<Option<FolderFile>> = players
        .map(|player| {
            stop.check()?;
            let own: Vec<SheetPlan> = plans
                .iter()
                .filter(|plan| plan.player == player)
                .copied()
                .collect();
            Ok(page(composer, player, &own, &folders[player], pictures))
        })
        .collect::<Result<_, CopyError>>()?;
    Ok(pages.into_iter().flatten().collect())
}

fn page(
    composer: &Composer<'_>,
    player: usize,
    plans: &[SheetPlan],
    folder: &str,
    pictures: &Pictures,
) -> Option<FolderFile> {
    let lesson = composer.lesson();
    let sheets: Vec<PracticeSheet> = plans
        .iter()
        .filter_map(|plan| sheet(composer, plan, pictures))
        .collect();
    if sheets.is_empty() {
        return None;
    }
    let own = &lesson.players[player];
    let name = match &own.name {
        Some(name) => format!("{name} · {}", own.instrument.name),
        None => own.instrument.name.to_string(),
    };
    let bytes = practice::page(&PracticePage {
        lesson: lesson.id.clone(),
        title: lesson.title.clone(),
        player: folder.to_owned(),
        name,
        tuning: lesson.track.tuning,
        sheets,
        weeks: Vec::new(),
    });
    Some(FolderFile {
        file: format!("{folder}/practice.html"),
        bytes,
    })
}

fn sheet(composer: &Composer<'_>, plan: &SheetPlan, pictures: &Pictures) -> Option<PracticeSheet> {
    let score = composer.compose(plan).ok()?.score;
    let take = Take {
        times: 1,
        ..take(composer.lesson())
    };
    let events = perform(&[&score], &take)
        .ok()
        .map(|performance| practice::events(&performance, &score));
    let through = || "through the keys".to_owned();
    let key = |name: String| if plan.through_keys { through() } else { name };
    Some(PracticeSheet {
        stem: plan.stem(),
        lesson: String::new(),
        tempos: composer
            .lesson()
            .tempo
            .map(|tempo| tempo.steps())
            .unwrap_or_default(),
        written: key(plan.written.signs()),
        concert: key(plan.concert.signs()),
        pages: pictures.pages(&score),
        events,
    })
}
