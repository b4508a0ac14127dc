//! The committed sample recordings: what they should be, and where they lie.

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

use dusklens_core::teach::{Sample, larkwater_fen};
use serde::Serialize;
use serde_json::{Value, json};

/// A file's name and its bytes.
pub type Named = (String, Vec<u8>);

/// The folder of the committed samples.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-calls")
}

/// Every file of the folder with the bytes it should have.
///
/// # Errors
/// Fails where a sample cannot be encoded.
pub fn files() -> Result<Vec<Named>, Box<dyn Error>> {
    let samples = larkwater_fen();
    let mut files = Vec::new();
    for sample in &samples {
        let truth = pretty(&sample.truth())?;
        let name = sample.file.trim_end_matches(".wav");
        files.push((sample.file.clone(), sample.wav()?));
        files.push((format!("{name}.truth.json"), truth.into_bytes()));
    }
    files.push(("index.json".into(), pretty(&index(&samples))?.into_bytes()));
    files.push(("README.md".into(), readme(&samples).into_bytes()));
    Ok(files)
}

/// Writes every file into a folder, which is made if missing.
///
/// # Errors
/// Fails where the folder cannot be written.
pub fn write(folder: &Path) -> Result<u64, Box<dyn Error>> {
    fs::create_dir_all(folder)?;
    let mut total = 0;
    for (name, bytes) in files()? {
        total += bytes.len() as u64;
        fs::write(folder.join(name), bytes)?;
    }
    Ok(total)
}

fn index(samples: &[Sample]) -> Value {
    let entry = |s: &Sample| json!({ "file": s.file, "title": s.title, "sentence": s.sentence });
    Value::Array(samples.iter().map(entry).collect())
}

/// JSON with numbers rounded to six decimals: a microsecond, a millihertz.
fn pretty(value: &impl Serialize) -> Result<String, serde_json::Error> {
    let mut value = serde_json::to_value(value)?;
    round(&mut value);
    Ok(serde_json::to_string_pretty(&value)? + "\n")
}

fn round(value: &mut Value) {
    match value {
        Value::Array(items) => items.iter_mut().for_each(round),
        Value::Object(fields) => fields.values_mut().for_each(round),
        Value::Number(number) if number.is_f64() => {
            let rounded = number.as_f64().map(|n| (n * 1e6).round() / 1e6);
            *value = rounded.map_or(Value::Null, Value::from);
        }
        _ => {}
    }
}

fn readme(samples: &[Sample]) -> String {
    let mut text = String::from(README_HEAD);
    for sample in samples {
        text.push_str(&format!(
            "| `{}` | {} kHz | {:.2} s | {} |\n",
            sample.file,
            sample.scene.rate_hz / 1000,
            sample.scene.duration_s,
            sample.sentence
        ));
    }
    text.push_str(README_TAIL);
    text
}

const README_HEAD: &str = "\
# Sample calls

Short recordings of a survey that never took place: Larkwater Fen is invented, and so are its
recorder, its observer and its position, a point at sea. Every sound is synthetic. Frequencies,
durations and intervals follow published ones (named in `crate/core/src/teach/survey.rs`), but no
recording claims a species.

| file | rate | real length | what it holds |
|---|---|---|---|
";

const README_TAIL: &str = "
All files are 16-bit mono WAV with GUANO metadata, except the one whose recorder lost power.

Beside each lies its truth, `*.truth.json`: what is known of every pulse from the laws it was
made by, in the names and units that Dusklens measures in. Times are real times at the
microphone. `snr_db` is null where there is no steady noise to compare with, `interval_ms` where
no pulse of the same animal came before. `index.json` lists titles and sentences for the page.

Written by `cargo xtask samples`; the same bytes every time. A test compares the committed files
with a fresh render, so change the synthesiser and the files together.
";
