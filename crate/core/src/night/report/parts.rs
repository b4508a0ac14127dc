//! Pieces that a report is made of.

use crate::draw::Markup;

/// What stands where a quantity has no value.
pub(super) const NONE: &str = "\u{2013}";

pub(super) fn paragraph(page: &mut Markup, text: &str) {
    page.text("p", &[("dir", &"auto")], text);
}

/// Words of a person with their line breaks.
pub(super) fn lines(page: &mut Markup, element: &'static str, text: &str) {
    page.open(element, &[("dir", &"auto")]);
    for (index, line) in text.trim_end().lines().enumerate() {
        if index > 0 {
            page.empty("br", &[]);
        }
        page.words(line);
    }
    page.close();
}

/// Names and what belongs to them; those without a value are left out.
pub(super) fn facts(page: &mut Markup, facts: &[(&'static str, String)]) {
    page.open("dl", &[("class", &"facts")]);
    for (name, value) in facts.iter().filter(|(_, value)| !value.trim().is_empty()) {
        page.text("dt", &[], name);
        lines(page, "dd", value);
    }
    page.close();
}

/// A table whose first column names its rows.
pub(super) fn table(
    page: &mut Markup,
    caption: &str,
    columns: &[&str],
    rows: &[Vec<String>],
    foot: Option<&[String]>,
) {
    page.open(
        "div",
        &[
            ("class", &"scroll"),
            ("tabindex", &0),
            ("role", &"region"),
            ("aria-label", &caption),
        ],
    );
    page.open("table", &[]);
    page.text("caption", &[], caption);
    page.open("thead", &[]);
    page.open("tr", &[]);
    for column in columns {
        page.text("th", &[("scope", &"col")], column);
    }
    page.close();
    page.close();
    page.open("tbody", &[]);
    for cells in rows {
        row(page, cells);
    }
    page.close();
    if let Some(cells) = foot {
        page.open("tfoot", &[]);
        row(page, cells);
        page.close();
    }
    page.close();
    page.close();
}

fn row(page: &mut Markup, cells: &[String]) {
    page.open("tr", &[]);
    for (number, cell) in cells.iter().enumerate() {
        if number == 0 {
            page.text("th", &[("scope", &"row"), ("dir", &"auto")], cell);
        } else {
            page.text("td", &[("dir", &"auto")], cell);
        }
    }
    page.close();
}

pub(super) fn figure(page: &mut Markup, svg: &str) {
    page.open("figure", &[("class", &"scroll")]);
    page.verbatim(svg);
    page.close();
}
