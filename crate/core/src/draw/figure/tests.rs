#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a failed test may panic"
)]

use super::*;
use crate::draw::{ColourMap, Look, Rendering, Scale};
use crate::pulse::{self, Findings, Settings};
use crate::recording::{Facts, OpenOptions, Recording};
use crate::spectrum::Window;
use crate::teach::larkwater_fen;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use proptest::prelude::*;
use roxmltree::{Document, Node};

const FRAME: FigureFrame = FigureFrame {
    channel: 0,
    start_s: 0.0,
    end_s: 0.05,
    low_khz: 0.0,
    high_khz: 125.0,
    rendering: Rendering {
        scale: Scale::Linear,
        window: Window::Hann,
        window_ms: None,
        sharpened: false,
    },
    width_mm: 160.0,
    picture_mm: 60.0,
    dpi: 100.0,
};

fn style() -> FigureStyle {
    FigureStyle {
        look: Look {
            map: ColourMap::Ink,
            floor_db: Some(-90.0),
            range_db: Some(60.0),
        },
        lines: FigureLines::Red,
        contours: true,
        numbers: true,
        scale_bar: true,
        source: true,
        title: "A title".to_owned(),
        note: "A note\nof two lines".to_owned(),
    }
}

fn facts() -> Facts {
    Facts {
        encoding: "16-bit PCM".to_owned(),
        channels: 1,
        frames: 12_500,
        stored_rate_hz: 250e3,
        rate_hz: 250e3,
        duration_s: 0.05,
        ..Facts::default()
    }
}

/// A tone of 50 kHz.
fn drawn(frame: &FigureFrame) -> Figure {
    let mut figure = Figure::new(frame, &facts()).unwrap();
    while let Some(block) = figure.next_block() {
        let turn = |n: u64| n as f64 * std::f64::consts::TAU * 50.0 / 250.0;
        let samples: Vec<f32> = block.map(|n| turn(n).sin() as f32).collect();
        figure.feed(&samples);
    }
    figure
}

fn svg(file: &str, sounds: &[FigureSound]) -> String {
    let facts = facts();
    let subject = Subject {
        file,
        facts: &facts,
        sounds,
    };
    drawn(&FRAME).svg(&style(), &subject).unwrap()
}

fn of_class<'a, 'i>(document: &'a Document<'i>, class: &str) -> Node<'a, 'i> {
    document
        .descendants()
        .find(|node| node.attribute("class") == Some(class))
        .unwrap()
}

fn texts(node: Node<'_, '_>) -> Vec<String> {
    let seen = |node: &Node<'_, '_>| node.has_tag_name("text") || node.tag_name().name() == "text";
    node.descendants()
        .filter(|node| seen(node) && node.attribute("aria-hidden").is_none())
        .filter_map(|node| node.text())
        .map(str::to_owned)
        .collect()
}

#[test]
fn it_has_its_size_axes_legend_and_settings() {
    let svg = svg("FEN-03.wav", &[]);
    let document = Document::parse(&svg).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("width"), Some("160mm"));
    assert_eq!(root.attribute("role"), Some("img"));
    // 160 mm are 453.54 points.
    assert!(
        root.attribute("viewBox")
            .unwrap()
            .starts_with("0 0 453.54 ")
    );
    let time = texts(of_class(&document, "time-axis"));
    assert_eq!(time, ["0", "10", "20", "30", "40", "50", "Time, ms"]);
    let frequency = texts(of_class(&document, "frequency-axis"));
    assert_eq!(
        frequency,
        ["0", "20", "40", "60", "80", "100", "120", "Frequency, kHz"]
    );
    let levels = texts(of_class(&document, "level-legend"));
    assert_eq!(levels.first().unwrap(), "\u{2212}90");
    assert_eq!(levels.last().unwrap(), "Level, dB re full scale");
    let words = texts(of_class(&document, "words")).join(" ");
    for part in [
        "A note",
        "FEN-03.wav: 0.050 s at 250 kHz, 16-bit PCM, 1 channel",
        "Hann window of",
        "% overlap",
        "levels from \u{2212}90 to \u{2212}30 dB re full scale",
        concat!("Dusklens ", env!("CARGO_PKG_VERSION")),
    ] {
        assert!(words.contains(part), "{part} is not in {words}");
    }
    assert_eq!(texts(of_class(&document, "title")), ["A title"]);
}

#[test]
fn without_its_source_a_figure_names_no_recording() {
    let facts = Facts {
        model: Some("Sedge".to_owned()),
        ..facts()
    };
    let subject = Subject {
        file: "roost.wav",
        facts: &facts,
        sounds: &[],
    };
    let style = FigureStyle {
        source: false,
        title: String::new(),
        ..style()
    };
    let svg = drawn(&FRAME).svg(&style, &subject).unwrap();
    assert!(!svg.contains("roost") && !svg.contains("250 kHz") && !svg.contains("Sedge"));
    assert!(svg.contains("<title id=\"name\">Spectrogram</title>"));
}

#[test]
fn the_settings_are_those_that_were_drawn_with() {
    let figure = drawn(&FRAME);
    let facts = facts();
    let subject = Subject {
        file: "a.wav",
        facts: &facts,
        sounds: &[],
    };
    let words = figure.svg(&style(), &subject).unwrap();
    let (window, apart) = (figure.drawing.window_ms(), figure.drawing.frames_apart_ms());
    assert!((window - figure.drawing.window_samples() as f64 / 250.0).abs() < 1e-9);
    // As many frames as a column needs lie in a column.
    let columns = f64::from(figure.frame().view().width_px);
    let per_column = 50.0 / columns / apart;
    assert!(
        (per_column - per_column.round()).abs() < 1e-9,
        "{per_column}"
    );
    let overlap = format!("({:.0} % overlap)", (1.0 - apart / window) * 100.0);
    assert!(words.contains(&overlap), "{overlap}");
}

#[test]
fn the_raster_inside_is_what_a_drawing_paints() {
    let figure = drawn(&FRAME);
    let (address, shades) = embed::picture(figure.drawing.raster(), &style().look).unwrap();
    let png = STANDARD
        .decode(address.strip_prefix("data:image/png;base64,").unwrap())
        .unwrap();
    let mut decoder = png::Decoder::new(std::io::Cursor::new(png));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut pixels).unwrap();
    // 160 mm less the axes' 100 points, at 100 dots per inch.
    let view = figure.frame().view();
    assert_eq!((info.width, info.height), (view.width_px, view.height_px));
    assert_eq!((info.width, info.height), (491, 236));
    let mut painted = Vec::new();
    assert_eq!(
        figure
            .drawing
            .raster()
            .paint(&style().look, &mut painted)
            .unwrap(),
        shades
    );
    for (got, want) in pixels.chunks(3).zip(painted.chunks(4)) {
        assert_eq!(got, &want[..3]);
    }
    // The tone is black in the ink map, and lies where 50 kHz are.
    let row = 236 * 75 / 125;
    assert!(pixels[(row * 491 + 245) * 3] < 40);
}

/// A sample's pulses, as the page numbers them.
fn sample() -> (Vec<u8>, Findings) {
    let bytes = larkwater_fen()[0].wav().unwrap();
    let recording = Recording::open(bytes.clone(), &OpenOptions { expansion: None }).unwrap();
    let findings = pulse::measure(&recording, 0, &Settings::default()).unwrap();
    (bytes, findings)
}

#[test]
fn pulses_are_numbered_and_doubted_sounds_dotted() {
    let (bytes, findings) = sample();
    let recording = Recording::open(bytes, &OpenOptions { expansion: None }).unwrap();
    let facts = recording.facts();
    let mut sounds: Vec<FigureSound> = (1..)
        .zip(findings.pulses)
        .map(|(number, pulse)| FigureSound {
            name: format!("{number}"),
            pulse,
        })
        .collect();
    if let Some(last) = sounds.last_mut() {
        last.pulse.doubt = Some(crate::pulse::Doubt::Lone);
        last.name = "D1".to_owned();
    }
    let count = sounds.len();
    let frame = FigureFrame {
        end_s: facts.duration_s,
        ..FRAME
    };
    let mut figure = Figure::new(&frame, facts).unwrap();
    let mut samples = Vec::new();
    while let Some(block) = figure.next_block() {
        recording.read(0, block, &mut samples).unwrap();
        figure.feed(&samples);
    }
    let subject = Subject {
        file: "a.wav",
        facts,
        sounds: &sounds,
    };
    let svg = figure.svg(&style(), &subject).unwrap();
    let document = Document::parse(&svg).unwrap();
    let numbers = texts(of_class(&document, "numbers"));
    assert!(numbers.len() > count / 2, "{numbers:?}");
    assert!(numbers.contains(&"D1".to_owned()));
    let paths: Vec<_> = of_class(&document, "contours")
        .descendants()
        .filter(|node| node.tag_name().name() == "path")
        .collect();
    // So narrow here that a halo would cover the sound: a line each.
    assert_eq!(paths.len(), count);
    let dotted = paths
        .iter()
        .filter(|path| path.attribute("stroke-dasharray").is_some())
        .count();
    assert_eq!(dotted, 1);
    let what = document
        .descendants()
        .find(|node| node.tag_name().name() == "desc")
        .unwrap();
    assert!(
        what.text()
            .unwrap()
            .contains(&format!("{count} measured sounds, numbers 1 to D1"))
    );
}

#[test]
fn from_close_by_a_contour_has_a_halo() {
    let (_, findings) = sample_once();
    let pulse = findings.pulses[0].clone();
    let frame = FigureFrame {
        start_s: pulse.start_s - 0.005,
        end_s: pulse.end_s + 0.005,
        ..FRAME
    };
    let sounds = [FigureSound {
        name: "1".to_owned(),
        pulse,
    }];
    let facts = facts();
    let subject = Subject {
        file: "a.wav",
        facts: &facts,
        sounds: &sounds,
    };
    let figure = Figure::new(&frame, &facts).unwrap();
    let svg = figure.svg(&style(), &subject).unwrap();
    let document = Document::parse(&svg).unwrap();
    let strokes: Vec<_> = of_class(&document, "contours")
        .descendants()
        .filter(|node| node.tag_name().name() == "path")
        .filter_map(|node| {
            node.parent_element()?
                .attribute("stroke")
                .map(str::to_owned)
        })
        .collect();
    assert_eq!(strokes, ["#ffffff", "#a5311f"]);
}

#[test]
fn on_equal_ratios_sound_and_ticks_lie_at_one_height() {
    let frame = FigureFrame {
        low_khz: 2.0,
        rendering: Rendering {
            scale: Scale::Logarithmic,
            sharpened: true,
            ..FRAME.rendering
        },
        ..FRAME
    };
    let figure = drawn(&frame);
    let raster = figure.drawing.raster();
    let middle = raster.width() / 2;
    let level = |row: u32| raster.level_db(middle, row).unwrap_or(f32::MIN);
    let loudest = (0..raster.height())
        .max_by(|&a, &b| level(a).total_cmp(&level(b)))
        .unwrap();
    let sounds_at = (f64::from(loudest) + 0.5) / f64::from(raster.height());
    let facts = facts();
    let subject = Subject {
        file: "a.wav",
        facts: &facts,
        sounds: &[],
    };
    let svg = figure.svg(&style(), &subject).unwrap();
    let document = Document::parse(&svg).unwrap();
    let number =
        |node: Node<'_, '_>, name: &str| -> f64 { node.attribute(name).unwrap().parse().unwrap() };
    let plot = document
        .descendants()
        .find(|node| node.tag_name().name() == "image")
        .unwrap();
    let axis = of_class(&document, "frequency-axis");
    let label = axis
        .descendants()
        .find(|node| node.text() == Some("50"))
        .unwrap();
    let tick = label.prev_sibling_element().unwrap();
    let written_at = (number(tick, "y1") - number(plot, "y")) / number(plot, "height");
    // ln(125 / 50) / ln(125 / 2), by hand.
    assert!((written_at - 0.221_58).abs() < 1e-4, "{written_at}");
    let row = 1.0 / f64::from(raster.height());
    assert!(
        (sounds_at - written_at).abs() <= row,
        "{sounds_at} {written_at}"
    );
    let words = texts(of_class(&document, "words")).join(" ");
    assert!(
        words.contains("reassigned") && words.contains("equal ratios"),
        "{words}"
    );
}

#[test]
fn what_is_no_figure_is_refused_with_a_sentence() {
    let message = |frame: FigureFrame| {
        Figure::new(&frame, &facts())
            .err()
            .map(|error| error.to_string())
    };
    let wide = FigureFrame {
        width_mm: 1e4,
        ..FRAME
    };
    assert!(message(wide).unwrap().contains("from 60 to 400 mm wide"));
    let none = FigureFrame {
        picture_mm: f64::NAN,
        ..FRAME
    };
    assert!(message(none).unwrap().contains("NaN"));
    let coarse = FigureFrame { dpi: 0.0, ..FRAME };
    assert!(message(coarse).unwrap().contains("from 50 to 600"));
    let backward = FigureFrame {
        end_s: -1.0,
        ..FRAME
    };
    assert!(message(backward).unwrap().contains("no stretch of time"));
}

#[test]
fn the_largest_figure_has_a_raster_that_can_be_drawn() {
    let frame = FigureFrame {
        width_mm: 400.0,
        picture_mm: 400.0,
        dpi: 600.0,
        ..FRAME
    };
    assert_eq!(frame.view().check(1), Ok(()));
    let frame = FigureFrame {
        width_mm: 60.0,
        picture_mm: 20.0,
        dpi: 50.0,
        ..FRAME
    };
    assert_eq!(frame.view().check(1), Ok(()));
}

#[test]
fn a_png_file_says_its_resolution() {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 2, 1);
    encoder.set_color(png::ColorType::Grayscale);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(&[7, 9]).unwrap();
    writer.finish().unwrap();
    let told = with_resolution(&bytes, 300.0);
    let mut reader = png::Decoder::new(std::io::Cursor::new(&told))
        .read_info()
        .unwrap();
    let dims = reader.info().pixel_dims.unwrap();
    // 300 dots per inch are 11811 per metre.
    assert_eq!(
        (dims.xppu, dims.yppu, dims.unit),
        (11_811, 11_811, png::Unit::Meter)
    );
    let mut pixels = [0; 2];
    reader.next_frame(&mut pixels).unwrap();
    assert_eq!(pixels, [7, 9]);
    assert_eq!(with_resolution(b"no picture", 300.0), b"no picture");
    assert_eq!(with_resolution(&bytes, f64::NAN), bytes);
    assert_eq!(with_resolution(&bytes[..20], 300.0), &bytes[..20]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]
    #[test]
    fn it_is_well_formed_whatever_is_written_on_it(
        file: String, title: String, note: String, name: String, local: String, encoding: String,
    ) {
        let mut facts = facts();
        facts.encoding = encoding;
        facts.start = Some(crate::recording::Stamp {
            local,
            utc_offset_min: Some(i32::MIN + 1),
            origin: crate::recording::StampOrigin::Guano,
        });
        let (_, findings) = sample_once();
        let sounds = [FigureSound { name, pulse: findings.pulses[0].clone() }];
        let subject = Subject { file: &file, facts: &facts, sounds: &sounds };
        let figure = Figure::new(&FRAME, &facts).unwrap();
        let svg = figure.svg(&FigureStyle { title, note, ..style() }, &subject).unwrap();
        let document = Document::parse(&svg).unwrap();
        // What was put in did not become elements.
        let known = ["svg", "title", "desc", "rect", "g", "text", "clipPath", "image", "path", "line"];
        prop_assert!(document.descendants().filter(Node::is_element).all(|node| known.contains(&node.tag_name().name())));
    }
}

/// The same, measured once for all cases.
fn sample_once() -> &'static (Vec<u8>, Findings) {
    static ONCE: std::sync::OnceLock<(Vec<u8>, Findings)> = std::sync::OnceLock::new();
    ONCE.get_or_init(sample)
}

#[test]
fn hostile_words_show_as_they_are() {
    let file = "</text><script>alert(1)</script>&\u{0}\u{202e}gpj.wav";
    let svg = svg(file, &[]);
    assert!(!svg.contains("<script"));
    let document = Document::parse(&svg).unwrap();
    let words = texts(of_class(&document, "words")).join("");
    assert!(
        words.contains("<script>alert(1)</script>&\u{fffd}\u{fffd}gpj.wav"),
        "{words}"
    );
}
