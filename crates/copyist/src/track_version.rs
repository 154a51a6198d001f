//! The versions of a track that a lesson asks for: how each is played, and
//! what it is called.

use lesson::{Feel, Lesson, Tempo, TrackClick, TrackForm, TrackStyle};
use sound::{Click, DEFAULT_TEMPO, Levels, Style, Swing, SwingRatio, Take, Tracks, Tuning};

/// One way to play a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Version {
    /// What follows the sheet's name in the file's: `-72-backing`, or nothing.
    pub suffix: String,
    pub form: VersionForm,
    pub take: Take,
    /// How fast it goes, as a player shows it.
    pub beats_a_minute: u16,
}

/// What is heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VersionForm {
    /// Everything.
    Everything,
    /// Everything but the line.
    Backing,
    /// The count-in, then the line.
    LineAlone,
    /// Calls, and room to answer them.
    Answer,
    /// Everything, slowly.
    Slow,
}

impl VersionForm {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            VersionForm::Everything => "everything",
            VersionForm::Backing => "backing",
            VersionForm::LineAlone => "line alone",
            VersionForm::Answer => "answer",
            VersionForm::Slow => "slow",
        }
    }
}

impl Version {
    /// The take of everything that this one is a part of.
    pub fn everything(&self) -> Take {
        Take {
            tracks: Tracks::ALL,
            answer: false,
            ..self.take
        }
    }
}

/// Every version of each of a lesson's sheets: as printed, or at each step of
/// a ladder of tempos, with everything and in the other forms; then the slow
/// one.
pub fn versions(lesson: &Lesson) -> Vec<Version> {
    let usual = take(lesson);
    let printed = lesson.tempo.map_or(DEFAULT_TEMPO, Tempo::slowest);
    let tempos: Vec<Option<u16>> = match lesson.tempo {
        Some(ladder @ Tempo::Ladder { .. }) => ladder.steps().into_iter().map(Some).collect(),
        Some(Tempo::At(_)) | None => vec![None],
    };
    let mut versions: Vec<Version> = tempos
        .into_iter()
        .flat_map(|tempo| {
            let usual = Take { tempo, ..usual };
            let speed = tempo.map(|beats| format!("-{beats}")).unwrap_or_default();
            let forms = lesson.track.forms.iter();
            let others = forms.filter_map(move |form| other(*form, usual));
            [("", VersionForm::Everything, usual)]
                .into_iter()
                .chain(others)
                .map(move |(ending, form, take)| Version {
                    suffix: format!("{speed}{ending}"),
                    form,
                    take,
                    beats_a_minute: tempo.unwrap_or(printed),
                })
        })
        .collect();
    if lesson.track.forms.contains(&TrackForm::Slow) {
        versions.push(Version {
            suffix: "-slow".to_owned(),
            form: VersionForm::Slow,
            take: Take {
                tempo: Some(slow(lesson)),
                ..usual
            },
            beats_a_minute: slow(lesson),
        });
    }
    versions
}

/// A form that is played at every tempo: what follows its name, what it is,
/// how it is played.
fn other(form: TrackForm, usual: Take) -> Option<(&'static str, VersionForm, Take)> {
    let tracks = |tracks| Take { tracks, ..usual };
    match form {
        TrackForm::Backing => Some(("-backing", VersionForm::Backing, tracks(Tracks::BACKING))),
        TrackForm::LineAlone => Some((
            "-line-alone",
            VersionForm::LineAlone,
            tracks(Tracks::LINE_ALONE),
        )),
        TrackForm::Answer => {
            let answer = Take {
                answer: true,
                ..usual
            };
            Some(("-answer", VersionForm::Answer, answer))
        }
        TrackForm::Slow | TrackForm::AllKeys => None,
    }
}

/// How a lesson's sheets are played where nothing else is asked for.
pub fn take(lesson: &Lesson) -> Take {
    let swing = match lesson.feel {
        Feel::Straight => Swing::Straight,
        Feel::Swing(lesson::Swing::ByTempo) => Swing::ByTempo,
        Feel::Swing(lesson::Swing::Ratio { long, short }) => {
            SwingRatio::new(long, short).map_or_else(Swing::default, Swing::Ratio)
        }
    };
    Take {
        swing,
        count_in: lesson.track.count_in,
        times: lesson.track.times,
        tuning: Tuning::new(lesson.track.tuning).unwrap_or_default(),
        style: lesson.track.style.map(style),
        click: lesson.track.click.map(click),
        levels: levels(lesson),
        ..Take::default()
    }
}

/// The lesson's word for a style.
pub fn style_word(style: TrackStyle) -> &'static str {
    match style {
        TrackStyle::Swing => "swing",
        TrackStyle::TwoBeat => "two-beat",
        TrackStyle::Waltz => "waltz",
        TrackStyle::Bossa => "bossa",
        TrackStyle::Funk => "funk",
        TrackStyle::Shuffle => "shuffle",
        TrackStyle::Ballad => "ballad",
        TrackStyle::EvenEighths => "even eighths",
        TrackStyle::Drone => "drone",
        TrackStyle::Plain => "plain",
    }
}

fn style(style: TrackStyle) -> Style {
    match style {
        TrackStyle::Swing => Style::Swing,
        TrackStyle::TwoBeat => Style::TwoBeat,
        TrackStyle::Waltz => Style::Waltz,
        TrackStyle::Bossa => Style::Bossa,
        TrackStyle::Funk => Style::Funk,
        TrackStyle::Shuffle => Style::Shuffle,
        TrackStyle::Ballad => Style::Ballad,
        TrackStyle::EvenEighths => Style::EvenEighths,
        TrackStyle::Drone => Style::Drone,
        TrackStyle::Plain => Style::Plain,
    }
}

fn click(click: TrackClick) -> Click {
    match click {
        TrackClick::AllBeats => Click::AllBeats,
        TrackClick::TwoAndFour => Click::TwoAndFour,
        TrackClick::BeatOne => Click::BeatOne,
        TrackClick::None => Click::None,
    }
}

fn levels(lesson: &Lesson) -> Levels {
    let lesson::Loudness {
        line,
        chords,
        bass,
        drums,
        click,
    } = lesson.track.levels;
    Levels {
        line,
        chords,
        bass,
        drums,
        click,
    }
}

/// Two thirds of the slowest tempo on the lesson's sheets, to the beat above.
fn slow(lesson: &Lesson) -> u16 {
    let tempos = lesson.exercises.iter().map(|exercise| {
        let said = exercise.tempo.or(lesson.tempo);
        said.map_or(DEFAULT_TEMPO, Tempo::slowest)
    });
    let slowest = tempos.min().unwrap_or(DEFAULT_TEMPO);
    slowest.saturating_mul(2).div_ceil(3).max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lesson(head: &str, rest: &str) -> Lesson {
        let text = format!(
            "title = \"A\"\n{head}\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n{rest}"
        );
        lesson_text::read(&text, "a").unwrap()
    }

    fn check(head: &str, rest: &str, expected: &str) {
        let told: Vec<String> = versions(&lesson(head, rest))
            .iter()
            .map(|version| {
                let tempo = version
                    .take
                    .tempo
                    .map_or(String::new(), |t| format!(" {t}"));
                format!("{}:{}{tempo}", version.suffix, version.form.word())
            })
            .collect();
        assert_eq!(told.join(", "), expected, "{head} {rest}");
    }

    #[test]
    fn forms_are_played_at_every_tempo() {
        check("", "", ":everything");
        check("tempo = 96", "", ":everything");
        check(
            "tempo = { from = 72, to = 90, by = 10 }",
            "[track]\nforms = [\"backing\"]",
            "-72:everything 72, -72-backing:backing 72, \
             -82:everything 82, -82-backing:backing 82, -90:everything 90, -90-backing:backing 90",
        );
        check(
            "tempo = 100",
            "[track]\nforms = [\"line alone\", \"answer\", \"slow\", \"all keys\"]",
            ":everything, -line-alone:line alone, -answer:answer, -slow:slow 67",
        );
    }

    #[test]
    fn slow_is_under_every_mark() {
        let forms = "[track]\nforms = [\"slow\"]";
        check("", forms, ":everything, -slow:slow 60");
        check(
            "tempo = 120",
            &format!(
                "[[exercise]]\nkind = \"scale\"\n[[exercise]]\nkind = \"figure\"\ntempo = 60\n{forms}"
            ),
            ":everything, -slow:slow 40",
        );
    }

    /// Whatever a lesson may say of swing and tuning can be played.
    #[test]
    fn every_ratio_and_tuning_of_a_lesson_is_played() {
        for long in 1..=13u8 {
            for short in 1..=13u8 {
                let text = format!(
                    "title = \"A\"\nfeel = \"swing {long}:{short}\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\n"
                );
                let read = lesson_text::read(&text, "a").ok();
                let played = read.map(|lesson| take(&lesson).swing);
                let expected = SwingRatio::new(long, short).map(Swing::Ratio);
                assert_eq!(played, expected, "{long}:{short}");
            }
        }
        for hertz in [392, 415, 440, 442, 494] {
            let lesson = lesson("", &format!("[track]\ntuning = {hertz}"));
            assert_eq!(take(&lesson).tuning.hertz(), hertz);
        }
    }
}
