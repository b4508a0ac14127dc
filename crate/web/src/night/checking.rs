//! The double-check of what was found automatically: files drawn at random, and what looking at them says of all.

use crate::{NightBook, Problem, convert};
use dusklens_core::night::audit::{self, MissRate};
use dusklens_core::night::list::{Group, Wanted};
use dusklens_core::night::{NightKey, ReviewVerdict};
use serde::Serialize;
use tsify::Tsify;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// Files that were drawn to be looked at by a person.
#[derive(Debug, Serialize, Tsify)]
pub struct DrawnFiles {
    /// Their contents, by SHA-256, in the order in which they were drawn.
    pub contents: Vec<String>,
    /// How many they were drawn from.
    pub of: u32,
}

/// How far a double-check is, and what it says so far.
#[derive(Debug, Serialize, Tsify)]
pub struct CheckSoFar {
    /// Files that were looked at, ...
    pub checked: u32,
    /// ... in which somebody found a bat, ...
    pub bats: u32,
    /// ... and of which it could not be told.
    pub unsure: u32,
    /// What share holds a bat, where those that could not be told hold none; none before the first file.
    pub rate: Option<MissRate>,
    /// The same, where they all hold one.
    pub rate_at_most: Option<MissRate>,
}

#[wasm_bindgen]
impl NightBook {
    /// Draws files of a group at random from these nights (all, where none are given). The same seed draws the same files.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    #[wasm_bindgen(unchecked_return_type = "DrawnFiles")]
    pub fn draw(
        &self,
        #[wasm_bindgen(unchecked_param_type = "NightKey[]")] nights: JsValue,
        #[wasm_bindgen(unchecked_param_type = "Group")] group: JsValue,
        count: usize,
        seed: u32,
    ) -> Result<JsValue, Problem> {
        let nights: Vec<NightKey> = convert::read(nights)?;
        let group: Group = convert::read(group)?;
        let wanted = Wanted {
            nights,
            groups: vec![group],
            ..Wanted::default()
        };
        let contents = self.contents_of(&wanted);
        let all: Vec<&str> = contents.iter().map(String::as_str).collect();
        convert::write(&DrawnFiles {
            of: all.len() as u32,
            contents: audit::draw(u64::from(seed), &all, count),
        })
    }

    /// What looking at drawn files says so far of all that they were drawn from.
    ///
    /// # Errors
    /// [`Problem`] where the page sends something else.
    #[wasm_bindgen(unchecked_return_type = "CheckSoFar")]
    pub fn check_so_far(&self, contents: Vec<String>, of: u32) -> Result<JsValue, Problem> {
        let reviews = &self.decisions().reviews;
        let verdicts = contents.iter().filter_map(|sha256| reviews.get(sha256));
        let (mut checked, mut bats, mut unsure) = (0, 0, 0);
        for review in verdicts {
            checked += 1;
            bats += u32::from(review.verdict == ReviewVerdict::Bat);
            unsure += u32::from(review.verdict == ReviewVerdict::Unsure);
        }
        let rate = |found| audit::miss_rate(found, checked, of).ok();
        convert::write(&CheckSoFar {
            checked,
            bats,
            unsure,
            rate: rate(bats),
            rate_at_most: rate(bats + unsure),
        })
    }
}
