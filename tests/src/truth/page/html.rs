//! Sections as HTML.

use std::error::Error;
use std::fmt::Write;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use plotters::style::RGBColor;

use super::model::{Figure, Line, Picture, Section, Table};
use super::plot::{self, GRID, INK, INKS, Tint};
use super::sections;
use super::{Input, Set};

type Failure = Box<dyn Error + Send + Sync>;

/// The whole page.
pub(super) fn document(input: &Input, sections: &[Section]) -> Result<String, Failure> {
    let parts: Vec<Markup> = sections.iter().map(section).collect::<Result<_, _>>()?;
    let title = match input.set {
        Set::Report => "How well Dusklens measures",
        Set::Tune => "How well Dusklens measures: the tuning draw",
    };
    let style = include_str!("page.css").to_owned() + &dark_plots();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(style)) }
            }
            body {
                header {
                    h1 { (title) }
                    p { (sections::origin(input.set)) }
                    dl.tiles {
                        @for (name, value) in sections::headline(input.tally) {
                            div { dt { (name) } dd { (value) } }
                        }
                    }
                    nav aria-label="Contents" {
                        ol { @for part in sections { li { a href={ "#" (part.id) } { (part.title) } } } }
                    }
                }
                main { @for part in &parts { (part) } }
            }
        }
    };
    Ok(page.into_string())
}

/// One section.
pub(super) fn section(part: &Section) -> Result<Markup, Failure> {
    let figures: Vec<Markup> = part.figures.iter().map(figure).collect::<Result<_, _>>()?;
    Ok(html! {
        section id=(part.id) {
            h2 { (part.title) }
            @for paragraph in &part.text { p { (paragraph) } }
            @if !figures.is_empty() { div.figures { @for figure in &figures { (figure) } } }
            @if !part.pictures.is_empty() { div.figures { @for picture in &part.pictures { (self::picture(picture)) } } }
            @for table in &part.tables { (self::table(table)) }
            @if !part.list.is_empty() {
                details {
                    summary { "Show all " (part.list.len()) }
                    ul { @for item in &part.list { li { (item) } } }
                }
            }
        }
    })
}

fn figure(figure: &Figure) -> Result<Markup, Failure> {
    let drawing = plot::svg(figure)?;
    // What a plot says in letters alone cannot be read off it by ear: name the axes at least.
    let spoken = format!(
        "{}: {} against {}",
        figure.title, figure.y.label, figure.x.label
    );
    Ok(html! {
        figure {
            figcaption { (figure.title) }
            div role="img" aria-label=(spoken) { (PreEscaped(drawing)) }
        }
    })
}

fn picture(picture: &Picture) -> Markup {
    let (width, height) = picture.size_px;
    let points = |line: &Line| {
        let points: Vec<String> = line.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        points.join(" ")
    };
    let spoken = format!("{}: {}", picture.caption, picture.axes);
    html! {
        figure {
            figcaption { (picture.caption) }
            svg viewBox={ "0 0 " (width) " " (height) } role="img" aria-label=(spoken) {
                image href={ "data:image/png;base64," (picture.png) } width=(width) height=(height) {}
                @for law in &picture.laws { polyline.law points=(points(law)) {} }
                @for contour in &picture.contours { polyline.contour points=(points(contour)) {} }
            }
            p.axes { (picture.axes) ". Dashed: true calls. Whole line: what was measured." }
        }
    }
}

fn table(table: &Table) -> Markup {
    let body = html! {
        // A region that scrolls must be reachable by keys.
        div.scroll tabindex="0" role="region" aria-label=(table.caption) {
            table.words[table.words] {
                @if !table.shut { caption { (table.caption) } }
                thead { tr { @for column in &table.columns { th scope="col" { (column) } } } }
                tbody {
                    @for row in &table.rows {
                        tr {
                            @for (index, cell) in row.iter().enumerate() {
                                @if index == 0 { th scope="row" { (cell) } } @else { td { (cell) } }
                            }
                        }
                    }
                }
            }
        }
    };
    html! {
        @if table.shut { details { summary { (table.caption) } (body) } } @else { (body) }
    }
}

/// The rules that give plots their colours on dark: plots name their colours, and a style
/// sheet comes before such names.
fn dark_plots() -> String {
    let mut rules = String::from("@media (prefers-color-scheme: dark) {\n");
    for Tint { light, dark } in [&INK, &GRID].into_iter().chain(&INKS) {
        let RGBColor(r, g, b) = light;
        let name = format!("#{r:02X}{g:02X}{b:02X}");
        // Writing into a String cannot fail.
        let _ = writeln!(
            rules,
            "svg [fill=\"{name}\"] {{ fill: {dark}; }}\nsvg [stroke=\"{name}\"] {{ stroke: {dark}; }}"
        );
    }
    rules.push_str("}\n");
    rules
}
