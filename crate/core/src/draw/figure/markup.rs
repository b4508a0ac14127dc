//! SVG as text, well formed whatever is put in.

use std::fmt::{Display, Write};

/// Markup in the making.
#[derive(Default)]
pub(super) struct Markup {
    text: String,
    open: Vec<&'static str>,
}

/// An attribute: its name and value.
pub(super) type Attribute<'a> = (&'static str, &'a dyn Display);

impl Markup {
    /// Opens an element, which [`close`](Self::close) closes.
    pub(super) fn open(&mut self, name: &'static str, attributes: &[Attribute<'_>]) {
        self.begin(name, attributes);
        self.text.push_str(">\n");
        self.open.push(name);
    }

    /// Closes the element that was opened last.
    pub(super) fn close(&mut self) {
        if let Some(name) = self.open.pop() {
            self.end(name);
        }
    }

    /// An element without content.
    pub(super) fn empty(&mut self, name: &'static str, attributes: &[Attribute<'_>]) {
        self.begin(name, attributes);
        self.text.push_str("/>\n");
    }

    /// An element with text in it.
    pub(super) fn text(&mut self, name: &'static str, attributes: &[Attribute<'_>], text: &str) {
        self.begin(name, attributes);
        self.text.push('>');
        escape(text, &mut self.text);
        self.end(name);
    }

    /// All of it; what is still open is closed.
    pub(super) fn into_string(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.text
    }

    fn begin(&mut self, name: &str, attributes: &[Attribute<'_>]) {
        self.text.push('<');
        self.text.push_str(name);
        for (name, value) in attributes {
            self.text.push(' ');
            self.text.push_str(name);
            self.text.push_str("=\"");
            escape(&value.to_string(), &mut self.text);
            self.text.push('"');
        }
    }

    fn end(&mut self, name: &str) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.text, "</{name}>");
    }
}

/// A length in points with as many decimals as can be seen.
pub(super) fn points(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// Puts text where neither markup nor a character that XML 1.0 forbids comes through. Those that turn the direction
/// of writing are replaced as well: a name could show itself as another one.
fn escape(text: &str, into: &mut String) {
    for c in text.chars() {
        match c {
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '"' => into.push_str("&quot;"),
            '\'' => into.push_str("&#39;"),
            '\t' | '\n' | '\r' => into.push(' '),
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{fffe}' | '\u{ffff}' => {
                into.push('\u{fffd}');
            }
            c if c.is_control() => into.push('\u{fffd}'),
            c => into.push(c),
        }
    }
}
