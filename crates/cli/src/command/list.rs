//! `list`: what a lesson can name, as text or JSON.

pub mod catalogue;
mod chords;
mod instruments;
mod listing;
pub mod names;
mod orders;
mod scales;

use std::io::Write;

use copyist::Refusal;
use theory::{Chord, Instrument, Scale};

use catalogue::Catalogue;

use crate::args::{ListArgs, TextFormat};
use crate::console::Console;
use crate::exit::Exit;

pub fn run(args: &ListArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    if let Some(refusal) = idle(args) {
        console.refusal(&refusal);
        return Ok(Exit::Mistake);
    }
    match &args.name {
        Some(name) => match one(args, name, out)? {
            Ok(exit) => Ok(exit),
            Err(refusal) => {
                console.refusal(&refusal);
                Ok(Exit::Mistake)
            }
        },
        None => all(args, out, console),
    }
}

fn all(args: &ListArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let format = args.format;
    match args.what {
        Catalogue::Scales => {
            let scales = scales::scales(args.notes);
            if scales.rows.is_empty() {
                console.remark("no scale has so many notes");
            }
            scales.print(format, out)
        }
        Catalogue::Instruments => instruments::instruments(args.family, None).print(format, out),
        Catalogue::Chords => chords::chords(None).print(format, out),
        Catalogue::KeyOrders => orders::key_orders()?.print(format, out),
        Catalogue::Exercises => orders::exercises().print(format, out),
    }
}

/// More of one thing: a scale in every key, a chord's other spellings.
fn one(args: &ListArgs, name: &str, out: &mut impl Write) -> anyhow::Result<Result<Exit, Refusal>> {
    let format = args.format;
    let text = format == TextFormat::Text;
    Ok(match args.what {
        Catalogue::Scales => match Scale::named(name) {
            Ok(scale) => {
                if text {
                    scales::head(&scale, out)?;
                }
                Ok(scales::in_every_key(&scale).print(format, out)?)
            }
            Err(error) => Err(Refusal::of_name(&error, "scale", "scales")),
        },
        Catalogue::Instruments => match Instrument::named(name) {
            Ok(one) => Ok(instruments::instruments(None, Some(&one.id)).print(format, out)?),
            Err(error) => Err(Refusal::of_name(&error, "instrument", "instruments")),
        },
        Catalogue::Chords => match Chord::parse(name) {
            Ok(chord) => {
                let exit = chords::chords(Some(chord.id())).print(format, out)?;
                if text {
                    chords::spellings(&chord, out)?;
                }
                Ok(exit)
            }
            Err(error) => Err(Refusal::of_name(&error, "chord", "chords")),
        },
        Catalogue::KeyOrders | Catalogue::Exercises => Err(Refusal::new(
            "there is no more to say of one of these",
            "leave the name out to see them all",
        )),
    })
}

/// A filter that the catalogue has no use for.
fn idle(args: &ListArgs) -> Option<Refusal> {
    let alone = |what: Catalogue, option: &str| {
        let elsewhere = args.what != what || args.name.is_some();
        elsewhere.then(|| {
            Refusal::new(
                format!("{option} has no use here"),
                format!("it belongs to the whole list of {}", what.word()),
            )
        })
    };
    let notes = args.notes.and_then(|_| alone(Catalogue::Scales, "--notes"));
    let family = args
        .family
        .and_then(|_| alone(Catalogue::Instruments, "--family"));
    notes.or(family)
}
