//! A link as a QR code (ISO/IEC 18004:2015), so that it can be read off paper.

use super::LinkError;
use crate::draw::Markup;
use qrcode::bits::Bits;
use qrcode::{Color, EcLevel, QrCode, Version};
use std::fmt::Write;

/// What the largest code, version 40, holds as bytes at level L (table 7 of the standard).
const MOST_BYTES: usize = 2953;
const LARGEST_VERSION: i16 = 40;
/// The standard's quiet zone, in modules.
const QUIET: usize = 4;
/// A module on paper: small enough for the largest code on a page, and large enough for the camera of a phone.
const MODULE_MM: f64 = 0.6;

/// A text as a QR code of error correction level L: a stand-alone SVG, black on white whatever is around it, since many
/// readers take a code in other colours for none.
///
/// # Errors
/// [`LinkError::TooDense`] for a text of more than 2953 bytes.
pub fn qr_svg(text: &str) -> Result<String, LinkError> {
    let code = encode(text.as_bytes()).ok_or(LinkError::TooDense {
        chars: text.len(),
        most: MOST_BYTES,
    })?;
    Ok(svg(&code))
}

/// The smallest code that holds the bytes as bytes. The denser modes of the standard are left alone: a base64 text gains
/// nothing by them, and pairs of bytes that look like kanji would come back as other characters.
fn encode(bytes: &[u8]) -> Option<QrCode> {
    (1..=LARGEST_VERSION).find_map(|version| {
        let mut bits = Bits::new(Version::Normal(version));
        bits.push_byte_data(bytes).ok()?;
        bits.push_terminator(EcLevel::L).ok()?;
        QrCode::with_bits(bits, EcLevel::L).ok()
    })
}

fn svg(code: &QrCode) -> String {
    let side = code.width() + 2 * QUIET;
    let length = format!("{:.1}mm", side as f64 * MODULE_MM);
    let mut markup = Markup::default();
    markup.open(
        "svg",
        &[
            ("xmlns", &"http://www.w3.org/2000/svg"),
            ("width", &length),
            ("height", &length),
            ("viewBox", &format!("0 0 {side} {side}")),
            ("role", &"img"),
            // A smoothed edge between two modules is a grey module to a reader.
            ("shape-rendering", &"crispEdges"),
        ],
    );
    markup.text("title", &[], "QR code of a call link");
    markup.empty(
        "rect",
        &[("width", &side), ("height", &side), ("fill", &"#ffffff")],
    );
    markup.empty("path", &[("d", &runs(code)), ("fill", &"#000000")]);
    markup.into_string()
}

/// The dark modules as a path: one closed piece for each run of them in a row.
fn runs(code: &QrCode) -> String {
    let colours = code.to_colors();
    let mut path = String::new();
    for (y, row) in colours.chunks(code.width().max(1)).enumerate() {
        let mut x = 0;
        for run in row.chunk_by(|one, next| one == next) {
            if run.first() == Some(&Color::Dark) {
                let (left, top, length) = (x + QUIET, y + QUIET, run.len());
                // Writing to a string cannot fail.
                let _ = write!(path, "M{left} {top}h{length}v1h-{length}z");
            }
            x += run.len();
        }
    }
    path
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::unwrap_used,
        clippy::indexing_slicing,
        reason = "a failed test may panic"
    )]

    use super::*;
    use proptest::prelude::*;
    use roxmltree::Document;
    use rqrr::PreparedImage;

    /// Pixels a module is drawn with for the reader.
    const SCALE: usize = 4;

    /// The dark pixels of an SVG, row by row, and how many of them are a side.
    fn raster(svg: &str) -> (Vec<bool>, usize) {
        let document = Document::parse(svg).unwrap();
        let root = document.root_element();
        let view = root.attribute("viewBox").unwrap();
        let side: usize = view.rsplit(' ').next().unwrap().parse().unwrap();
        let path = document
            .descendants()
            .find(|node| node.tag_name().name() == "path");
        let mut dark = vec![false; side * side];
        for run in path.unwrap().attribute("d").unwrap().split_terminator('z') {
            let numbers: Vec<usize> = run
                .split(|c: char| !c.is_ascii_digit())
                .filter(|number| !number.is_empty())
                .map(|number| number.parse().unwrap())
                .collect();
            let [x, y, length, 1, back] = numbers[..] else {
                unreachable!("{run} is no run");
            };
            assert_eq!(length, back);
            dark[y * side + x..][..length].fill(true);
        }
        (dark, side)
    }

    fn read(svg: &str) -> String {
        let (dark, side) = raster(svg);
        let pixels = side * SCALE;
        let shade = |x: usize, y: usize| {
            if dark[y / SCALE * side + x / SCALE] {
                0
            } else {
                255
            }
        };
        let mut image = PreparedImage::prepare_from_greyscale(pixels, pixels, shade);
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1);
        grids.first().unwrap().decode().unwrap().1
    }

    /// Text as links have it, of so many characters.
    fn link(chars: usize) -> String {
        let signs = "https://example.org/#call=AbC-_0189zyxWVU";
        signs.chars().cycle().take(chars).collect()
    }

    #[test]
    fn another_reader_reads_it() {
        for chars in [1, 100, 1500, 2953] {
            let text = link(chars);
            assert_eq!(read(&qr_svg(&text).unwrap()), text, "{chars} characters");
        }
    }

    #[test]
    fn the_longest_is_the_largest_code() {
        let (_, side) = raster(&qr_svg(&link(2953)).unwrap());
        assert_eq!(side, 177 + 2 * QUIET);
        let (_, side) = raster(&qr_svg("1").unwrap());
        assert_eq!(side, 21 + 2 * QUIET);
    }

    #[test]
    fn around_it_is_a_quiet_zone() {
        let (dark, side) = raster(&qr_svg(&link(100)).unwrap());
        let is_within = |place: usize| (QUIET..side - QUIET).contains(&place);
        for (at, _) in dark.iter().enumerate().filter(|(_, is_dark)| **is_dark) {
            assert!(is_within(at % side) && is_within(at / side));
        }
        // The finder pattern begins at the very corner.
        assert!(dark[QUIET * side + QUIET]);
    }

    #[test]
    fn it_is_an_image_with_a_name() {
        let svg = qr_svg(&link(100)).unwrap();
        let document = Document::parse(&svg).unwrap();
        let root = document.root_element();
        assert_eq!(root.attribute("role"), Some("img"));
        let title = root.first_element_child().unwrap();
        assert_eq!(title.tag_name().name(), "title");
        assert_eq!(svg.matches("<path").count(), 1);
    }

    #[test]
    fn too_long_a_text_is_refused_with_advice() {
        let refusal = qr_svg(&link(2954)).unwrap_err();
        let (chars, most) = (2954, 2953);
        assert_eq!(refusal, LinkError::TooDense { chars, most });
        assert_eq!(
            refusal.to_string(),
            "the link has 2954 characters; a QR code holds at most 2953"
        );
        assert_eq!(refusal.advice(), "Copy the link, or give a call sheet.");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn any_link_comes_back(text in "[A-Za-z0-9_=#:/.-]{1,600}") {
            prop_assert_eq!(read(&qr_svg(&text).unwrap()), text);
        }

        #[test]
        fn any_words_come_back(text in "\\PC{1,60}") {
            prop_assert_eq!(read(&qr_svg(&text).unwrap()), text);
        }
    }
}
