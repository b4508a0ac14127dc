//! A figure that our own markup makes has to pass, so that a new kind of element in it is noticed here.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a failed test may panic"
)]

use super::drawing::is_drawing;
use crate::draw::{
    ColourMap, Figure, FigureFrame, FigureLines, FigureSound, FigureStyle, Look, Rendering, Scale,
    Subject,
};
use crate::pulse::{self, Settings};
use crate::recording::{OpenOptions, Recording};
use crate::spectrum::Window;
use crate::teach::larkwater_fen;

#[test]
fn what_could_run_or_fetch_is_no_drawing() {
    let around = |inside: &str| format!("<svg>{inside}</svg>");
    let odd = [
        around("<script>alert(1)</script>"),
        around("<SCRIPT/>"),
        around("<path onload=\"alert(1)\"/>"),
        around("<path OnClick=\"alert(1)\"/>"),
        around("<path d=\"M0\"onload=\"x\"/>"),
        around("<image href=\"javascript:alert(1)\"/>"),
        around("<image href=\"https://example.org/a.png\"/>"),
        around("<image href=\"data:image/svg+xml;base64,AAAA\"/>"),
        around("<path fill=\"url(https://example.org/)\"/>"),
        around("<path fill=\"u\\72l(https://example.org/)\"/>"),
        around("<path clip-path=\"url(https://example.org/#a)\"/>"),
        around("<path style=\"fill: red\"/>"),
        around("<foreignObject/>"),
        around("<a><path/></a>"),
        around("<style>@import 'a'</style>"),
        around("<title><image/></title>"),
        around("<!-- a -->"),
        around("<![CDATA[a]]>"),
        around("<g>"),
        around("</g>"),
        around("&nbsp;"),
        around("<text>\u{202e}</text>"),
        around("<path d='M0'/>"),
        around("<path d=\"M0\" d=\"M1\"/>"),
        "<svg onload=\"alert(1)\"></svg>".to_owned(),
        "<svg></svg><script/>".to_owned(),
        "<svg></svg><svg></svg>".to_owned(),
        "<svg>".to_owned(),
        "<svg/>".to_owned(),
        "<p></p>".to_owned(),
        " <svg></svg>".to_owned(),
    ];
    for drawing in odd {
        assert!(!is_drawing(&drawing), "{drawing}");
    }
}

const FRAME: FigureFrame = FigureFrame {
    channel: 0,
    start_s: 0.0,
    end_s: 0.5,
    low_khz: 0.0,
    high_khz: 120.0,
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

/// A figure of a sample with all that can be drawn on it.
fn own_figure(words: &str) -> String {
    let bytes = larkwater_fen()[0].wav().unwrap();
    let recording = Recording::open(bytes, &OpenOptions { expansion: None }).unwrap();
    let findings = pulse::measure(&recording, 0, &Settings::default()).unwrap();
    let mut figure = Figure::new(&FRAME, recording.facts()).unwrap();
    let mut samples = Vec::new();
    while let Some(block) = figure.next_block() {
        recording.read(0, block, &mut samples).unwrap();
        figure.feed(&samples);
    }
    let named = (1..)
        .zip(findings.pulses)
        .map(|(number, pulse)| FigureSound {
            name: number.to_string(),
            pulse,
        });
    let sounds: Vec<FigureSound> = named.collect();
    let style = FigureStyle {
        look: Look {
            map: ColourMap::Ink,
            floor_db: None,
            range_db: None,
        },
        lines: FigureLines::Red,
        contours: true,
        numbers: true,
        scale_bar: true,
        source: true,
        title: words.to_owned(),
        note: words.to_owned(),
    };
    let subject = Subject {
        file: words,
        facts: recording.facts(),
        sounds: &sounds,
    };
    figure.svg(&style, &subject).unwrap()
}

#[test]
fn our_own_figure_is_one_whatever_its_words_are() {
    let figure = own_figure("<script>\"'&\u{202e} on=\"x\" url(a)");
    assert!(is_drawing(&figure), "{figure}");
    assert!(figure.contains("<image") && figure.contains("contours"));
}
