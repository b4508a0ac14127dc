//! Rasters as PNG (W3C Recommendation "Portable Network Graphics", third edition, 2025).

use super::super::levels::Shades;
use super::super::{ColourMap, Look, Raster};
use super::FigureError;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// Eight bytes that every PNG file begins with.
const SIGNATURE: [u8; 8] = [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n'];
/// The signature and the header chunk, which is always the first: length, type, 13 bytes, check sum.
const HEADER_END: usize = 8 + 4 + 4 + 13 + 4;
const METRES_PER_INCH: f64 = 0.0254;

/// A painted raster as the address of an image, and the levels that its colours stretch over.
pub(super) fn picture(raster: &Raster, look: &Look) -> Result<(String, Shades), FigureError> {
    look.check()?;
    let shades = Shades::choose(raster.levels_db(), look);
    let shade = shades.scale();
    let height = raster.height() as usize;
    let columns: Vec<&[f32]> = raster.levels_db().chunks(height.max(1)).collect();
    let rows = (0..height).flat_map(|row| columns.iter().filter_map(move |column| column.get(row)));
    // A raster has 256 shades at most, so that a pixel is a byte and not three.
    let pixels: Vec<u8> = rows.map(|&level| shade(level) as u8).collect();
    let address = address(look.map, raster.width(), raster.height(), &pixels)?;
    Ok((address, shades))
}

/// A colour bar from the top's colour down to the floor's, as the address of an image.
pub(super) fn bar(map: ColourMap) -> Result<String, FigureError> {
    let pixels: Vec<u8> = (0..=u8::MAX).rev().collect();
    address(map, 1, 256, &pixels)
}

fn address(map: ColourMap, width: u32, height: u32, pixels: &[u8]) -> Result<String, FigureError> {
    let png = encode(map, width, height, pixels).map_err(|_| FigureError::Embedding)?;
    Ok(format!("data:image/png;base64,{}", STANDARD.encode(png)))
}

fn encode(
    map: ColourMap,
    width: u32,
    height: u32,
    pixels: &[u8],
) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    let palette: Vec<u8> = map
        .shades()
        .into_iter()
        .flat_map(|[red, green, blue, _]| [red, green, blue])
        .collect();
    encoder.set_palette(palette);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(pixels)?;
    writer.finish()?;
    Ok(bytes)
}

/// A PNG file that says its resolution, in a `pHYs` chunk, so that it has its size in a text or on a printer. Anything
/// else than a PNG file comes back as it is.
#[must_use]
pub fn with_resolution(png: &[u8], dpi: f64) -> Vec<u8> {
    let per_metre = dpi / METRES_PER_INCH;
    if !png.starts_with(&SIGNATURE) || png.len() < HEADER_END || !(1.0..1e9).contains(&per_metre) {
        return png.to_vec();
    }
    let per_metre = (per_metre.round() as u32).to_be_bytes();
    // Both directions, and the unit: metre.
    let body = [b"pHYs".as_slice(), &per_metre, &per_metre, &[1]].concat();
    let (header, rest) = png.split_at(HEADER_END);
    [
        header,
        &9u32.to_be_bytes(),
        &body,
        &crc32fast::hash(&body).to_be_bytes(),
        rest,
    ]
    .concat()
}
