//! Signs of the way through a piece.

/// A sign or a word that says where to go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sign {
    Segno,
    Coda,
    Fine,
    ToCoda,
    DaCapo,
    DalSegno,
}
