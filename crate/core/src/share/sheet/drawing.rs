//! Whether an SVG is one that this project draws, before it becomes part of a page.
//!
//! It is read strictly, by a list of what may stand in it: elements, the few addresses, text. A list of what may not
//! would have to know every way in which an SVG can run or fetch something.

use crate::draw::is_barred;

/// All elements that a figure or a QR code is made of.
const ELEMENTS: [&str; 10] = [
    "svg", "g", "path", "line", "rect", "text", "title", "desc", "clipPath", "image",
];
/// Those that hold text alone. In a page, browsers read what is inside of a title or a description as HTML.
const OF_TEXT: [&str; 3] = ["text", "title", "desc"];
/// All attributes of these. None runs anything, and none but `href` and those that may refer to a part take an address.
const ATTRIBUTES: [&str; 31] = [
    "xmlns",
    "viewBox",
    "preserveAspectRatio",
    "id",
    "class",
    "role",
    "aria-labelledby",
    "aria-hidden",
    "x",
    "y",
    "x1",
    "y1",
    "x2",
    "y2",
    "width",
    "height",
    "d",
    "transform",
    "href",
    "clip-path",
    "shape-rendering",
    "fill",
    "stroke",
    "stroke-width",
    "stroke-dasharray",
    "stroke-linecap",
    "stroke-linejoin",
    "font-family",
    "font-size",
    "font-weight",
    "text-anchor",
];
/// How our own markup writes the characters that mean something.
const REFERENCES: [&str; 5] = ["&amp;", "&lt;", "&gt;", "&quot;", "&#39;"];
const NAMESPACE: &str = "http://www.w3.org/2000/svg";
const RASTER: &str = "data:image/png;base64,";

/// Whether it is one whole drawing, well formed, that runs nothing and fetches nothing.
pub(super) fn is_drawing(svg: &str) -> bool {
    read(svg.trim_end()).is_some()
}

/// `None` at the first thing that does not belong in a drawing.
fn read(svg: &str) -> Option<()> {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = svg.strip_prefix('<')?;
    loop {
        // Our own markup has no `>` in the value of an attribute.
        let (tag, after) = rest.split_once('>')?;
        match tag.strip_prefix('/') {
            Some(name) => only(open.pop() == Some(name))?,
            None => begin(tag, &mut open)?,
        }
        if open.is_empty() {
            return only(after.is_empty());
        }
        let (text, next) = after.split_once('<')?;
        only(is_text(text))?;
        rest = next;
    }
}

fn begin<'t>(tag: &'t str, open: &mut Vec<&'t str>) -> Option<()> {
    let (tag, is_empty) = match tag.strip_suffix('/') {
        Some(tag) => (tag, true),
        None => (tag, false),
    };
    let end = tag.find(char::is_whitespace).unwrap_or(tag.len());
    let (name, attributes) = tag.split_at(end);
    only(ELEMENTS.contains(&name))?;
    let is_first = open.is_empty();
    only(is_first == (name == "svg"))?;
    only(open.last().is_none_or(|around| !OF_TEXT.contains(around)))?;
    are_attributes(attributes)?;
    // An empty drawing shows nothing.
    only(!(is_first && is_empty))?;
    if !is_empty {
        open.push(name);
    }
    Some(())
}

fn are_attributes(text: &str) -> Option<()> {
    let mut seen: Vec<&str> = Vec::new();
    let mut rest = text;
    loop {
        let trimmed = rest.trim_start();
        if trimmed.is_empty() {
            return Some(());
        }
        // Attributes are parted by space.
        only(trimmed.len() < rest.len())?;
        let (name, after) = trimmed.split_once("=\"")?;
        let (value, after) = after.split_once('"')?;
        only(!seen.contains(&name) && is_attribute(name, value))?;
        seen.push(name);
        rest = after;
    }
}

fn is_attribute(name: &str, value: &str) -> bool {
    let is_value = match name {
        "xmlns" => value == NAMESPACE,
        "href" => value.strip_prefix(RASTER).is_some_and(super::is_base64),
        // A part of the drawing itself.
        "clip-path" => value.starts_with("url(#") && value.ends_with(')'),
        // A backslash could hide an address from who looks for one.
        _ => !value.contains(['(', '\\', ':']) || name == "transform",
    };
    ATTRIBUTES.contains(&name) && is_value && is_text(value)
}

/// Whether it is text as our own markup writes it.
fn is_text(text: &str) -> bool {
    let is_reference = |at: usize| {
        let rest = text.get(at..).unwrap_or_default();
        REFERENCES.iter().any(|known| rest.starts_with(known))
    };
    let is_known = text.match_indices('&').all(|(at, _)| is_reference(at));
    let is_plain = |c: char| matches!(c, '\n' | '\r' | '\t') || !(c == '<' || is_barred(c));
    is_known && text.chars().all(is_plain)
}

/// Whether to go on.
fn only(holds: bool) -> Option<()> {
    holds.then_some(())
}
