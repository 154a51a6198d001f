//! `contents.json`: what lies in a lesson's folder, for scripts and for
//! looking a sheet up.

use etude::{LeftOut, Report, SheetPlan};
use lesson::{Lesson, Player};
use serde::Serialize;
use theory::PitchName;

/// Stands for the key of a sheet that moves through several.
pub const THROUGH_KEYS: &str = "through keys";

/// The whole file.
#[derive(Debug, Serialize)]
pub struct Contents {
    pub lesson: String,
    pub title: String,
    pub sheets: Vec<SheetEntry>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tracks: Vec<TrackEntry>,
    pub left_out: Vec<LeftOutEntry>,
    /// Books, scores and grids made of the sheets together.
    pub bound: Vec<String>,
}

/// Who a sheet is for, and in which key.
#[derive(Debug, Clone, Serialize)]
pub struct Heading {
    pub instrument: String,
    pub player: Option<String>,
    pub level: &'static str,
    pub number: u16,
    pub written_key: String,
    pub concert_key: String,
}

/// One file.
#[derive(Debug, Serialize)]
pub struct SheetEntry {
    pub file: String,
    #[serde(flatten)]
    pub heading: Heading,
    /// Whether it holds what the sheet before it leaves to be written.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub answers: bool,
    pub copies: u16,
    pub bars: u32,
    pub lowest: String,
    pub highest: String,
    pub turns: u32,
    pub jumps: u32,
    pub edition: String,
}

/// One practice track.
#[derive(Debug, Clone, Serialize)]
pub struct TrackEntry {
    pub file: String,
    #[serde(flatten)]
    pub of: Of,
    /// What is heard.
    pub form: &'static str,
    /// Beats a minute; none where it goes as printed.
    pub tempo: Option<u16>,
    /// Begun ones count.
    pub seconds: u64,
}

/// What a track plays: a sheet, or all of a player's.
#[derive(Debug, Clone, Serialize)]
#[serde(untagged)]
pub enum Of {
    Sheet(Heading),
    AllKeys {
        instrument: String,
        player: Option<String>,
        keys: Vec<String>,
    },
}

/// A sheet that could not be made.
#[derive(Debug, Serialize)]
pub struct LeftOutEntry {
    #[serde(flatten)]
    pub heading: Heading,
    pub why: String,
}

impl Contents {
    pub fn new(lesson: &Lesson) -> Contents {
        Contents {
            lesson: lesson.id.clone(),
            title: lesson.title.clone(),
            sheets: Vec::new(),
            tracks: Vec::new(),
            left_out: Vec::new(),
            bound: Vec::new(),
        }
    }

    /// The file's text.
    pub fn to_json(&self) -> serde_json::Result<Vec<u8>> {
        let mut json = serde_json::to_vec_pretty(self)?;
        json.push(b'\n');
        Ok(json)
    }
}

impl Heading {
    pub fn new(player: &Player, plan: &SheetPlan) -> Heading {
        Heading {
            instrument: player.instrument.id.to_string(),
            player: player.name.clone(),
            level: player.level.word(),
            number: plan.number,
            written_key: key(plan, plan.written),
            concert_key: key(plan, plan.concert),
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
pub fn key(plan: &SheetPlan, name: PitchName) -> String {
    if plan.through_keys {
        THROUGH_KEYS.to_owned()
    } else {
        name.to_string()
    }
}

impl SheetEntry {
    pub fn new(
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

impl Of {
    /// A player's sheets, joined.
    pub fn all_keys(player: &Player, plans: &[SheetPlan]) -> Of {
        Of::AllKeys {
            instrument: player.instrument.id.to_string(),
            player: player.name.clone(),
            keys: plans.iter().map(|plan| plan.written.to_string()).collect(),
        }
    }
}

impl LeftOutEntry {
    pub fn new(player: &Player, plan: &SheetPlan, why: &LeftOut) -> LeftOutEntry {
        LeftOutEntry {
            heading: Heading::new(player, plan),
            why: why.to_string(),
        }
    }
}
