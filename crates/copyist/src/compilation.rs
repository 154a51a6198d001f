//! What is made of a lesson's sheets together: a book for each player, a
//! score with everyone in it for each key, and grids to sign off.

use etude::{Composer, NoRooms, RoomPitch, SheetPlan};
use lesson::{Course, Lesson, Player, Tempo};
use score::{About, HeadLine, Imprint, Score, book};

use crate::composing::{too_fine, unless_stopped};
use crate::contents::THROUGH_KEYS;
use crate::error::CopyError;
use crate::folder_file::FolderFile;
use crate::pictures::Pictures;
use crate::stop::Stop;

/// A book for each player who has any sheets: `alto-saxophone/book`.
pub fn books(
    composer: &Composer<'_>,
    plans: &[SheetPlan],
    folders: &[String],
    stop: &Stop,
) -> Result<Vec<FolderFile>, CopyError> {
    let mut books = Vec::new();
    for (place, player) in composer.lesson().players.iter().enumerate() {
        stop.check()?;
        let own = plans.iter().filter(|plan| plan.player == place);
        let sheets = own.filter_map(|plan| composed(composer, plan).transpose());
        let sheets: Vec<Score> = sheets.collect::<Result<_, CopyError>>()?;
        let Some(bound) = book(&sheets, &player.instrument) else {
            continue;
        };
        let mut bytes = Vec::new();
        writer::musicxml(&bound, &mut bytes);
        books.push(FolderFile {
            file: format!("{}/book.musicxml", folders[place]),
            bytes,
        });
    }
    Ok(books)
}

/// A player's book of a course: sheets lesson after lesson, each under its
/// lesson's title; none where nothing can be played.
pub fn course_book(
    course: &Course,
    player: &Player,
    lessons: &[(&Composer<'_>, Vec<SheetPlan>)],
    stop: &Stop,
) -> Result<Option<Vec<u8>>, CopyError> {
    let mut sheets: Vec<Score> = Vec::new();
    for (composer, plans) in lessons {
        for plan in plans {
            stop.check()?;
            let Some(mut sheet) = composed(composer, plan)? else {
                continue;
            };
            let title = HeadLine::new(About::Sheet, sheet.title.as_str());
            sheet.head.insert(0, title);
            sheets.push(sheet);
        }
    }
    let Some(mut bound) = book(&sheets, &player.instrument) else {
        return Ok(None);
    };
    drop(sheets);
    bound.title.clone_from(&course.title);
    bound.subtitle.clone_from(&course.subtitle);
    bound.imprint = Imprint {
        author: course.own.author.clone(),
        rights: course.own.rights.clone(),
        footer: course.own.footer.clone(),
        text: course.own.text.clone(),
    };
    let mut bytes = Vec::new();
    writer::musicxml(&bound, &mut bytes);
    Ok(Some(bytes))
}

/// A score with everyone in it for each sounding key: `room/01-c`.
pub fn rooms(
    lesson: &Lesson,
    plans: &[SheetPlan],
    folders: &[String],
    pitch: RoomPitch,
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Vec<FolderFile>, CopyError> {
    // A player may be called Room.
    let mut folder = "room".to_owned();
    while folders.contains(&folder) {
        folder.push_str("-score");
    }
    let title = match pitch {
        RoomPitch::Concert => "Score at concert pitch",
        RoomPitch::Transposed => "Transposed score",
    };
    let mut scores = Vec::new();
    let rooms = etude::rooms(lesson, plans, pitch, stop.raised());
    let rooms = rooms.map_err(|why| match why {
        NoRooms::TooFine(error) => too_fine(error).into(),
        NoRooms::Stopped => CopyError::Stopped,
    })?;
    for room in rooms {
        stop.check()?;
        let stem = format!("{folder}/{}", room.stem);
        let mut bytes = Vec::new();
        writer::musicxml_parts(&room.parts, pitch == RoomPitch::Concert, &mut bytes);
        scores.push(FolderFile {
            file: format!("{stem}.musicxml"),
            bytes,
        });
        for (ending, bytes) in pictures.room(&room.parts, title, &stem, stop)? {
            scores.push(FolderFile {
                file: format!("{stem}.{ending}"),
                bytes,
            });
        }
    }
    Ok(scores)
}

/// A grid for each player, keys down and tempos across, with boxes to tick:
/// `alto-saxophone/sign-off.txt`.
pub fn sign_offs(lesson: &Lesson, plans: &[SheetPlan], folders: &[String]) -> Vec<FolderFile> {
    let players = lesson.players.iter().enumerate();
    players
        .filter_map(|(place, player)| {
            let own: Vec<&SheetPlan> = plans.iter().filter(|plan| plan.player == place).collect();
            if own.is_empty() {
                return None;
            }
            let who = player
                .name
                .clone()
                .unwrap_or_else(|| player.instrument.name.to_string());
            let grid = grid(&lesson.title, &who, &own, &tempos(lesson.tempo));
            Some(FolderFile {
                file: format!("{}/sign-off.txt", folders[place]),
                bytes: grid.into_bytes(),
            })
        })
        .collect()
}

/// A sheet's score; none where it is left out.
fn composed(composer: &Composer<'_>, plan: &SheetPlan) -> Result<Option<Score>, CopyError> {
    let sheet = unless_stopped(composer.compose(plan))?;
    Ok(sheet.ok().map(|sheet| sheet.score))
}

/// The tempos to be signed off; without any, one column.
fn tempos(tempo: Option<Tempo>) -> Vec<String> {
    match tempo {
        None => vec!["played".to_owned()],
        Some(tempo) => tempo.steps().iter().map(u16::to_string).collect(),
    }
}

fn grid(title: &str, who: &str, plans: &[&SheetPlan], tempos: &[String]) -> String {
    let mut grid = format!("{title}\n{who}\n\n{:<18}", "written (concert)");
    for tempo in tempos {
        grid.push_str(&format!("  {tempo:>6}"));
    }
    grid.push('\n');
    for plan in plans {
        let key = if plan.through_keys {
            format!("{:02}  {THROUGH_KEYS}", plan.number)
        } else {
            format!(
                "{:02}  {} ({})",
                plan.number,
                plan.written.signs(),
                plan.concert.signs()
            )
        };
        grid.push_str(&format!("{key:<18}"));
        for _ in tempos {
            grid.push_str(&format!("  {:>6}", "□"));
        }
        grid.push('\n');
    }
    grid
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_grid_has_a_box_for_each_key_and_tempo() {
        let text = "title = \"Grid\"\ninstruments = [\"b-flat trumpet\"]\ntempo = { from = 72, to = 96, by = 8 }\n[keys]\nonly = [\"C\", \"Ab\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n";
        let lesson = lesson_text::read(text, "grid").unwrap();
        let composer = Composer::new(&lesson).unwrap();
        let folders = ["b-flat-trumpet".to_owned()];
        let bound = sign_offs(&lesson, composer.plans(), &folders);
        let grid = String::from_utf8(bound[0].bytes.clone()).unwrap();
        assert_eq!(
            grid,
            "Grid\nTrumpet in B♭\n\nwritten (concert)       72      80      88      96\n\
             01  D (C)                □       □       □       □\n\
             02  B♭ (A♭)              □       □       □       □\n"
        );
        assert_eq!(bound[0].file, "b-flat-trumpet/sign-off.txt");
    }
}
