//! Bytes -> [`Recording`]: chunk walk, samples, metadata, repair of cut-off files.

mod facts;
mod source;

pub use facts::{
    Expansion, ExpansionGuess, ExpansionOrigin, Facts, Field, Identification, Notice, Place, Stamp,
    StampOrigin,
};
pub use source::Source;
