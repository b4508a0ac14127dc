//! An invented night written to a folder: the card as a recorder leaves it, and its truth beside it.

use std::error::Error;
use std::fs;
use std::io;
use std::path::Path;
use std::sync::atomic::{AtomicU64, AtomicUsize, Ordering};

use dusklens_core::teach::night::{NightPlan, PlannedFile, Renderer};
use rayon::prelude::*;

/// The folder of the card within the folder that is written to.
pub const CARD: &str = "card";
/// The night's truth, beside the card.
pub const TRUTH: &str = "night-truth.json";

/// Writes a night into `folder`, with all cores; `progress` is told after each file how many are
/// done and how many bytes they hold, from any thread. The bytes of the card.
///
/// # Errors
/// Where the folder holds a card already, or cannot be written.
pub fn write(
    plan: &NightPlan,
    folder: &Path,
    progress: impl Fn(usize, u64) + Sync,
) -> Result<u64, Box<dyn Error>> {
    let card = folder.join(CARD);
    if card.exists() {
        return Err(format!(
            "There is a card in {} already. Delete it, or name another folder with --out.",
            folder.display()
        )
        .into());
    }
    for file in &plan.files {
        if let Some(parent) = card.join(&file.path).parent() {
            fs::create_dir_all(parent)?;
        }
    }
    let renderer = Renderer::new(plan);
    let (files, bytes) = (AtomicUsize::new(0), AtomicU64::new(0));
    plan.files.par_iter().try_for_each_init(
        || renderer.clone(),
        |renderer, file| -> io::Result<()> {
            let size = write_one(file, &card, renderer)?;
            let bytes = bytes.fetch_add(size, Ordering::Relaxed) + size;
            progress(files.fetch_add(1, Ordering::Relaxed) + 1, bytes);
            Ok(())
        },
    )?;
    let truth = serde_json::to_string_pretty(&plan.truth)? + "\n";
    fs::write(folder.join(TRUTH), truth)?;
    Ok(bytes.into_inner())
}

fn write_one(file: &PlannedFile, card: &Path, renderer: &mut Renderer) -> io::Result<u64> {
    let bytes = file.render(renderer).map_err(io::Error::other)?;
    fs::write(card.join(&file.path), &bytes)?;
    Ok(bytes.len() as u64)
}
