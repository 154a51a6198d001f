//! The orders of keys, and the kinds of exercises.

use anyhow::anyhow;
use copyist::Refusal;
use lesson::KindName;
use serde::Serialize;
use theory::{KeyOrder, RootWish, Scale, concert_root};

use super::listing::Listing;

#[derive(Serialize)]
struct KeyOrderItem {
    id: String,
    from_c: Vec<String>,
}

pub fn key_orders() -> anyhow::Result<Listing<2, impl Serialize>> {
    let major = Scale::named("major")
        .map_err(|error| anyhow!(Refusal::of_name(&error, "scale", "scales").message))?;
    let row = |order: KeyOrder| {
        let names = order
            .classes(0)
            .map(|class| concert_root(class, &major, RootWish::default()).to_string());
        let item = KeyOrderItem {
            id: order.words(),
            from_c: names.to_vec(),
        };
        ([item.id.clone(), item.from_c.join(" ")], item)
    };
    Ok(Listing {
        heading: ["order", "from C"],
        rows: KeyOrder::all().into_iter().map(row).collect(),
    })
}

#[derive(Serialize)]
struct ExerciseItem {
    id: &'static str,
    about: &'static str,
}

pub fn exercises() -> Listing<2, impl Serialize> {
    let row = |(id, about): (&'static str, &'static str)| {
        let item = ExerciseItem { id, about };
        ([id.to_owned(), about.to_owned()], item)
    };
    let kinds = KindName::ALL
        .iter()
        .map(|kind| (kind.word(), kind.row().about));
    let write_out = (
        "write out",
        "any of these but trade with its first bars given, for the student to write out",
    );
    Listing {
        heading: ["kind", "what it is"],
        rows: kinds.chain([write_out]).map(row).collect(),
    }
}
