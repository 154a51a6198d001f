//! `contents.json`: what lies in a lesson's folder, for scripts and for
//! looking a sheet up.

use std::collections::{BTreeMap, BTreeSet};

use etude::{LeftOut, Report, SheetPlan};
use lesson::Player;
use serde::{Deserialize, Serialize};
use theory::PitchName;

/// Stands for the key of a sheet that moves through several.
pub const THROUGH_KEYS: &str = "through keys";

/// Which fields there are and what they mean, here and where sheets are
/// described: raised when one changes or goes, not when one is added.
pub const VERSION: u32 = 1;

/// The whole file.
#[derive(Debug, Default, Serialize)]
pub struct Contents {
    /// [`VERSION`].
    pub version: u32,
    /// The lesson's id.
    pub lesson: String,
    /// Its title.
    pub title: String,
    /// Every sheet, in the lesson's order.
    pub sheets: Vec<SheetEntry>,
    /// Every practice track.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tracks: Vec<TrackEntry>,
    /// Every sheet that could not be made.
    pub left_out: Vec<LeftOutEntry>,
    /// Books, packets, scores and grids made of the sheets together.
    pub bound: Vec<String>,
    /// Of a course the folders of its lessons, each of which tells of its own.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lessons: Vec<String>,
    /// Every file that the program wrote here and a hash to know it again by.
    pub files: BTreeMap<String, String>,
    /// The order of sheets, by all their names without ending; not told.
    #[serde(skip)]
    pub(crate) order: BTreeMap<String, usize>,
}

/// What `contents.json` said before.
#[derive(Debug, Default, Deserialize)]
pub struct PastContents {
    #[serde(default)]
    sheets: Vec<SheetEntry>,
    #[serde(default)]
    pub tracks: Vec<TrackEntry>,
    #[serde(default)]
    left_out: Vec<LeftOutEntry>,
    /// Books, scores and grids.
    #[serde(default)]
    pub bound: Vec<String>,
    #[serde(default)]
    pub lessons: Vec<String>,
    #[serde(default)]
    pub files: BTreeMap<String, String>,
}

/// Who a sheet is for, and in which key.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Heading {
    /// The instrument's id.
    pub instrument: String,
    /// The player's name, if the lesson gives one.
    pub player: Option<String>,
    /// The player's level.
    pub level: String,
    /// The sheet's number in the order of keys.
    pub number: u16,
    /// The key as the player reads it.
    pub written_key: String,
    /// The key that sounds.
    pub concert_key: String,
}

/// One file.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SheetEntry {
    /// The file within the lesson's folder.
    pub file: String,
    /// Who it is for.
    #[serde(flatten)]
    pub heading: Heading,
    /// Whether it holds what the sheet before it leaves to be written.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub answers: bool,
    /// How many the player wants.
    pub copies: u16,
    /// Its length in bars.
    pub bars: u32,
    /// The lowest note, as written.
    pub lowest: String,
    /// The highest note, as written.
    pub highest: String,
    /// How often it turns round early.
    pub turns: u32,
    /// How often it leaves its octave.
    pub jumps: u32,
    /// Six digits that change only with the music.
    pub edition: String,
}

/// One practice track.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct TrackEntry {
    /// The file within the lesson's folder.
    pub file: String,
    /// What it plays.
    #[serde(flatten)]
    pub of: TrackSubject,
    /// What is heard.
    pub form: String,
    /// Beats a minute; none where it goes as printed.
    pub tempo: Option<u16>,
    /// Begun ones count.
    pub seconds: u64,
    /// The sheet it plays, without ending; of all keys `…/all-keys`.
    #[serde(default)]
    pub sheet: String,
}

/// What a track plays: a sheet, or all of a player's.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(untagged)]
pub enum TrackSubject {
    /// A sheet.
    Sheet(Heading),
    /// All of a player's.
    AllKeys {
        /// The instrument's id.
        instrument: String,
        /// The player's name, if the lesson gives one.
        player: Option<String>,
        /// The written keys.
        keys: Vec<String>,
    },
}

/// A sheet that could not be made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct LeftOutEntry {
    /// Who it is for.
    #[serde(flatten)]
    pub heading: Heading,
    /// The name its file would have, without ending.
    pub sheet: String,
    /// Why not.
    pub why: String,
}

impl Contents {
    /// Of a lesson, or a course, by its id and its title.
    pub(crate) fn new(id: &str, title: &str) -> Contents {
        Contents {
            version: VERSION,
            lesson: id.to_owned(),
            title: title.to_owned(),
            ..Contents::default()
        }
    }

    /// Whether nothing was made and nothing left out.
    pub fn is_empty(&self) -> bool {
        self.sheets.is_empty()
            && self.tracks.is_empty()
            && self.left_out.is_empty()
            && self.bound.is_empty()
            && self.lessons.is_empty()
    }

    /// Keeps what was told before of sheets that this run had no part in and
    /// that `stand` still, in the order of the lesson; and of books, scores
    /// and grids as long as they `exist`.
    pub(crate) fn take_in(
        &mut self,
        earlier: &PastContents,
        stand: impl Fn(&str) -> bool,
        exist: impl Fn(&str) -> bool,
    ) {
        let made: BTreeSet<String> = self.sheets.iter().map(|sheet| sheet.file.clone()).collect();
        let left = self.left_out.iter();
        let left: BTreeSet<String> = left.flat_map(|one| sheet_names(&one.sheet)).collect();
        let own = |stem: &str| left.contains(stem);
        let sheets = earlier.sheets.iter().filter(|sheet| {
            !made.contains(&sheet.file) && !own(stem(&sheet.file)) && stand(&sheet.file)
        });
        self.sheets.extend(sheets.cloned());
        let stems: BTreeSet<&str> = made.iter().map(|file| stem(file)).collect();
        let left_out = earlier.left_out.iter().filter(|one| {
            !own(&one.sheet)
                && !stems.contains(one.sheet.as_str())
                && self.order.contains_key(&one.sheet)
        });
        self.left_out.extend(left_out.cloned());
        for file in earlier.bound.iter().filter(|file| exist(file)) {
            if !self.bound.contains(file) {
                self.bound.push(file.clone());
            }
        }
        let tracks: BTreeSet<String> = self.tracks.iter().map(|one| one.file.clone()).collect();
        let others = earlier.tracks.iter();
        let others = others.filter(|one| !tracks.contains(&one.file) && stand(&one.file));
        self.tracks.extend(others.cloned());
        let order = &self.order;
        let place = |stem: &str| order.get(stem).copied();
        // those of all keys come last
        let sheet_place =
            |track: &TrackEntry| order.get(&track.sheet).copied().unwrap_or(usize::MAX);
        self.tracks.sort_by_key(sheet_place);
        // Stable: the endings of one sheet stay in their order.
        self.sheets.sort_by_key(|sheet| place(stem(&sheet.file)));
        self.left_out.sort_by_key(|one| place(&one.sheet));
    }

    /// Files that were told before under another name, only since their key is
    /// named otherwise now: what each was called and is called.
    pub(crate) fn renames(&self, earlier: &PastContents) -> BTreeMap<String, String> {
        let now = self.named();
        let before = earlier.named();
        let renamed = before.into_iter().filter_map(|(what, (old, old_key))| {
            let (new, new_key) = now.get(&what)?;
            (*new != old && *new_key != old_key).then(|| (old, new.clone()))
        });
        renamed.collect()
    }

    fn named(&self) -> BTreeMap<Identity, FileOfKey> {
        identities(&self.sheets, &self.tracks)
    }

    /// The file's text.
    pub fn to_json(&self) -> serde_json::Result<Vec<u8>> {
        let mut json = serde_json::to_vec_pretty(self)?;
        json.push(b'\n');
        Ok(json)
    }
}

impl Heading {
    pub(crate) fn new(player: &Player, plan: &SheetPlan) -> Heading {
        Heading {
            instrument: player.instrument.id.to_string(),
            player: player.name.clone(),
            level: player.level.word().to_owned(),
            number: plan.number,
            written_key: key_words(plan, plan.written),
            concert_key: key_words(plan, plan.concert),
        }
    }

    /// Who and what, for messages: `Ada, alto-saxophone, written F#`.
    pub fn words(&self) -> String {
        let player = self
            .player
            .as_ref()
            .map(|name| format!("{name}, "))
            .unwrap_or_default();
        let written = if self.written_key == THROUGH_KEYS {
            ""
        } else {
            "written "
        };
        format!("{player}{}, {written}{}", self.instrument, self.written_key)
    }
}

/// A sheet's key, or that it moves through several.
pub fn key_words(plan: &SheetPlan, name: PitchName) -> String {
    if plan.through_keys {
        THROUGH_KEYS.to_owned()
    } else {
        name.to_string()
    }
}

impl SheetEntry {
    pub(crate) fn new(
        file: String,
        answers: bool,
        player: &Player,
        plan: &SheetPlan,
        report: &Report,
    ) -> SheetEntry {
        SheetEntry {
            file,
            heading: Heading::new(player, plan),
            answers,
            copies: player.copies,
            bars: report.bars,
            lowest: report.lowest.to_string(),
            highest: report.highest.to_string(),
            turns: report.turns,
            jumps: report.jumps,
            edition: report.edition.clone(),
        }
    }
}

impl TrackSubject {
    /// A player's sheets, joined.
    pub(crate) fn all_keys(player: &Player, plans: &[SheetPlan]) -> TrackSubject {
        TrackSubject::AllKeys {
            instrument: player.instrument.id.to_string(),
            player: player.name.clone(),
            keys: plans.iter().map(|plan| plan.written.to_string()).collect(),
        }
    }
}

impl PastContents {
    fn named(&self) -> BTreeMap<Identity, FileOfKey> {
        identities(&self.sheets, &self.tracks)
    }

    /// The edition a sheet's file had.
    pub fn edition(&self, file: &str) -> Option<&str> {
        let sheet = self.sheets.iter().find(|sheet| sheet.file == file)?;
        Some(&sheet.edition)
    }
}

impl LeftOutEntry {
    pub(crate) fn new(
        sheet: String,
        player: &Player,
        plan: &SheetPlan,
        why: &LeftOut,
    ) -> LeftOutEntry {
        LeftOutEntry {
            sheet,
            heading: Heading::new(player, plan),
            why: why.to_string(),
        }
    }
}

/// What a file is, whatever its key is called: whose, its number, the pitch
/// classes of its keys, its kind of file, and whether it holds answers, or the
/// form and the tempo of a track.
type Identity = (String, Option<String>, u16, [Option<u8>; 2], String, String);

/// A file and what its written key is called.
type FileOfKey = (String, String);

fn identities(sheets: &[SheetEntry], tracks: &[TrackEntry]) -> BTreeMap<Identity, FileOfKey> {
    let class = |key: &str| key.parse().ok().map(PitchName::class);
    let identity = |heading: &Heading, file: &str, which: String| {
        let name = file.rsplit('/').next().unwrap_or(file);
        let ending = name.split_once('.').map_or("", |(_, ending)| ending);
        (
            heading.instrument.clone(),
            heading.player.clone(),
            heading.number,
            [class(&heading.written_key), class(&heading.concert_key)],
            ending.to_owned(),
            which,
        )
    };
    let of_sheets = sheets.iter().map(|one| {
        let which = format!("answers: {}", one.answers);
        let named = (one.file.clone(), one.heading.written_key.clone());
        (identity(&one.heading, &one.file, which), named)
    });
    let of_tracks = tracks.iter().filter_map(|one| match &one.of {
        TrackSubject::Sheet(heading) => {
            let which = format!("{} {:?}", one.form, one.tempo);
            let named = (one.file.clone(), heading.written_key.clone());
            Some((identity(heading, &one.file, which), named))
        }
        TrackSubject::AllKeys { .. } => None,
    });
    of_sheets.chain(of_tracks).collect()
}

/// A file's name without its ending.
pub fn stem(file: &str) -> &str {
    let name = file.rfind('/').map_or(0, |at| at + 1);
    let dot = file[name..].find('.').map_or(file.len(), |at| name + at);
    &file[..dot]
}

/// What a sheet's files are called, without ending: the sheet itself, and its
/// answers.
pub fn sheet_names(sheet: &str) -> [String; 2] {
    [sheet.to_owned(), format!("{sheet}-answers")]
}
