//! Words of a figure: what it shows and with which settings, and how words are broken into lines.

use super::super::levels::Shades;
use super::super::{Drawing, Rendering, Scale};
use super::{FigureStyle, Subject};
use crate::spectrum::Window;

/// The sentences below the picture, a paragraph each.
pub(super) fn paragraphs(
    drawing: &Drawing,
    rendering: &Rendering,
    shades: Shades,
    style: &FigureStyle,
    subject: &Subject<'_>,
) -> Vec<String> {
    let notes = style.note.lines().map(str::trim);
    let mut all: Vec<String> = notes
        .filter(|line| !line.is_empty())
        .map(str::to_owned)
        .collect();
    if style.source {
        let facts = subject.facts.in_words(drawing.view().channel);
        all.push(format!("{}: {}.", subject.file, facts.join("; ")));
    }
    all.push(settings(drawing, rendering, shades));
    all.extend(marks(style, subject));
    all.push(format!("Made with Dusklens {}.", env!("CARGO_PKG_VERSION")));
    all
}

/// The settings that the spectrogram was drawn with.
fn settings(drawing: &Drawing, rendering: &Rendering, shades: Shades) -> String {
    let (window, apart) = (drawing.window_ms(), drawing.frames_apart_ms());
    format!(
        "Spectrogram: {} window of {} ms ({} samples), a spectrum every {} ms ({:.0} % overlap), {}{}; levels from {} to {} dB re full scale.",
        window_name(drawing.window()),
        significant(window),
        drawing.window_samples(),
        significant(apart),
        (1.0 - apart / window) * 100.0,
        if rendering.sharpened {
            "each level moved to the time and frequency where its energy has its centre (reassigned)"
        } else {
            "each point the loudest that lies in it"
        },
        match rendering.scale {
            Scale::Linear => "",
            Scale::Logarithmic => "; frequency runs by equal ratios",
        },
        minus(format!("{:.0}", shades.floor_db)),
        minus(format!("{:.0}", shades.top_db)),
    )
}

/// What is drawn over the spectrogram.
fn marks(style: &FigureStyle, subject: &Subject<'_>) -> Option<String> {
    let doubted = subject
        .sounds
        .iter()
        .any(|sound| sound.pulse.doubt.is_some());
    let lines = style.contours.then_some("Lines: contours as measured.");
    let dots = (style.contours && doubted).then_some("Dots: sounds that are probably no bat's.");
    let numbers = style.numbers.then_some("Numbers are those of the table.");
    let all: Vec<&str> = [lines, dots, numbers].into_iter().flatten().collect();
    (!all.is_empty() && !subject.sounds.is_empty()).then(|| all.join(" "))
}

fn window_name(window: Window) -> &'static str {
    match window {
        Window::Hann => "Hann",
        Window::Hamming => "Hamming",
        Window::BlackmanHarris => "Blackman\u{2013}Harris",
        Window::Gaussian => "Gaussian",
        Window::Kaiser => "Kaiser",
    }
}

/// Three digits that count.
fn significant(value: f64) -> String {
    let digits = 2 - value.abs().max(1e-9).log10().floor() as i32;
    format!("{value:.*}", usize::try_from(digits).unwrap_or(0).min(9))
}

/// A number with a real minus.
pub(super) fn minus(number: String) -> String {
    if number == "-0" {
        "0".to_owned()
    } else {
        number.replace('-', "\u{2212}")
    }
}

/// What the figure shows, as one sentence for who cannot see it.
pub(super) fn description(drawing: &Drawing, style: &FigureStyle, subject: &Subject<'_>) -> String {
    let view = drawing.view();
    let within = |start_s: f64, end_s: f64| end_s >= view.start_s && start_s <= view.end_s;
    let names: Vec<&str> = subject
        .sounds
        .iter()
        .filter(|sound| within(sound.pulse.start_s, sound.pulse.end_s))
        .map(|sound| sound.name.as_str())
        .collect();
    let sounds = match names.as_slice() {
        [] => "no sounds that were measured".to_owned(),
        [one] => format!("one measured sound, number {one}"),
        [first, .., last] => format!("{} measured sounds, numbers {first} to {last}", names.len()),
    };
    let of = if style.source {
        format!(" of {}", subject.file)
    } else {
        String::new()
    };
    format!(
        "Spectrogram{of} from {:.4} to {:.4} s and {:.1} to {:.1} kHz, with {sounds}.",
        view.start_s, view.end_s, view.low_khz, view.high_khz
    )
}

/// Text broken into lines of at most so many points at a size of type. A word that is longer than a line is cut.
pub(super) fn lines(text: &str, size_pt: f64, width_pt: f64) -> Vec<String> {
    let most = width_pt / size_pt;
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let room = most - width_em(&line) - width_em(" ");
        if !line.is_empty() && width_em(word) > room {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        for c in word.chars() {
            if width_em(&line) + char_em(c) > most && !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            line.push(c);
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// About how wide a text is, in sizes of type.
pub(super) fn width_em(text: &str) -> f64 {
    text.chars().map(char_em).sum()
}

/// About how wide a letter is in the wide ones of the usual sans-serif families: which one will be there, nobody knows.
fn char_em(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' => 0.34,
        'f' | 't' | 'r' | '-' | '(' | ')' | 'I' | '/' => 0.42,
        'm' | 'w' | 'M' | 'W' | '@' | '%' => 1.0,
        'A'..='Z' => 0.76,
        c if c.is_ascii() => 0.63,
        // Scripts with wide letters begin here.
        '\u{1100}'.. => 1.1,
        _ => 0.7,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn three_digits_count() {
        assert_eq!(significant(1.024), "1.02");
        assert_eq!(significant(0.051_23), "0.0512");
        assert_eq!(significant(12.345), "12.3");
        assert_eq!(significant(1234.5), "1234");
    }

    proptest! {
        #[test]
        fn lines_hold_all_words_and_fit(text in "\\PC{0,200}", width in 20.0f64..400.0) {
            let lines = lines(&text, 7.0, width);
            let bare = |text: &str| text.split_whitespace().collect::<String>();
            prop_assert_eq!(bare(&lines.concat()), bare(&text));
            for line in &lines {
                prop_assert!(width_em(line) * 7.0 <= width || line.chars().count() == 1, "{}", line);
            }
        }
    }
}
