//! Small pictures of a made-up sound, to be compared with those in `tests/data/pictures`.

use std::error::Error;
use std::f64::consts::TAU;
use std::fs::File;
use std::io::BufReader;
use std::path::PathBuf;

use dusklens_core::draw::{ColourMap, Drawing, Look, Rendering, Scale, View};

const RATE_HZ: f64 = 256e3;

/// A picture in colours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// What it shows; the name of its file.
    pub name: String,
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// Red, green, blue; row after row.
    pub rgb: Vec<u8>,
}

/// Each rendering once in ink, and each colour map once.
///
/// # Errors
/// When one cannot be drawn.
pub fn all() -> Result<Vec<Picture>, Box<dyn Error>> {
    let usual = Rendering::default();
    let renderings = [
        ("linear", usual),
        (
            "logarithmic",
            Rendering {
                scale: Scale::Logarithmic,
                ..usual
            },
        ),
        (
            "sharpened",
            Rendering {
                sharpened: true,
                ..usual
            },
        ),
        (
            "long-window",
            Rendering {
                window_ms: Some(4.0),
                ..usual
            },
        ),
    ];
    let renderings = renderings
        .into_iter()
        .map(|(name, rendering)| drawn(name.to_owned(), &rendering, ColourMap::Ink));
    let maps = ColourMap::ALL.into_iter().map(|map| {
        let name = format!("map-{map:?}").to_lowercase();
        drawn(name, &usual, map)
    });
    renderings.chain(maps).collect()
}

/// Where the pictures to compare with lie.
#[must_use]
pub fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/pictures")
}

/// Reads a picture to compare with.
///
/// # Errors
/// When it is missing, or no picture of this kind.
pub fn kept(name: &str) -> Result<Picture, Box<dyn Error>> {
    let path = folder().join(format!("{name}.png"));
    let file = File::open(&path).map_err(|error| format!("{}: {error}", path.display()))?;
    let mut reader = png::Decoder::new(BufReader::new(file)).read_info()?;
    let mut rgb = vec![
        0;
        reader
            .output_buffer_size()
            .ok_or("the picture is too large")?
    ];
    let facts = reader.next_frame(&mut rgb)?;
    if facts.color_type != png::ColorType::Rgb {
        return Err("the picture is not in red, green and blue".into());
    }
    rgb.truncate(facts.buffer_size());
    Ok(Picture {
        name: name.to_owned(),
        width: facts.width,
        height: facts.height,
        rgb,
    })
}

/// Writes all pictures; returns how many.
///
/// # Errors
/// When one cannot be drawn or written.
pub fn write() -> Result<usize, Box<dyn Error>> {
    std::fs::create_dir_all(folder())?;
    let pictures = all()?;
    for picture in &pictures {
        let path = folder().join(format!("{}.png", picture.name));
        let mut encoder = png::Encoder::new(File::create(path)?, picture.width, picture.height);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_compression(png::Compression::High);
        encoder.write_header()?.write_image_data(&picture.rgb)?;
    }
    Ok(pictures.len())
}

/// A sweep from 90 to 25 kHz in 8 ms, an impulse, and a constant tone of 12 kHz, without noise.
fn sound() -> Vec<f32> {
    let mut samples: Vec<f32> = (0..6144)
        .map(|n| {
            let t = f64::from(n) / RATE_HZ;
            let tone = 0.02 * (TAU * 12e3 * t).sin();
            let sung = (t - 4e-3) / 8e-3;
            if !(0.0..1.0).contains(&sung) {
                return tone as f32;
            }
            let envelope = (sung * std::f64::consts::PI).sin();
            let cycles = 8e-3 * (90e3 * sung - 32.5e3 * sung * sung);
            (tone + 0.4 * envelope * (TAU * cycles).sin()) as f32
        })
        .collect();
    samples[4500] = 0.9;
    samples
}

fn drawn(name: String, rendering: &Rendering, map: ColourMap) -> Result<Picture, Box<dyn Error>> {
    let samples = sound();
    let view = View {
        channel: 0,
        start_s: 0.0,
        end_s: samples.len() as f64 / RATE_HZ,
        low_khz: 4.0,
        high_khz: 128.0,
        width_px: 96,
        height_px: 64,
    };
    let mut drawing = Drawing::rendered(&view, rendering, 1, RATE_HZ, samples.len() as u64)?;
    while let Some(block) = drawing.next_block() {
        drawing.feed(&samples[block.start as usize..block.end as usize]);
    }
    let look = Look {
        map,
        floor_db: Some(-70.0),
        range_db: Some(60.0),
    };
    let mut pixels = vec![];
    drawing.raster().paint(&look, &mut pixels)?;
    let rgb = pixels
        .chunks_exact(4)
        .flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]);
    Ok(Picture {
        name,
        width: view.width_px,
        height: view.height_px,
        rgb: rgb.collect(),
    })
}
