//! SVG and HTML as text, well formed whatever is put in.

use std::fmt::{Display, Write};

/// Markup in the making.
#[derive(Default)]
pub(crate) struct Markup {
    text: String,
    open: Vec<&'static str>,
}

/// An attribute: its name and value.
pub(super) type Attribute<'a> = (&'static str, &'a dyn Display);

impl Markup {
    /// Opens an element, which [`close`](Self::close) closes.
    pub(crate) fn open(&mut self, name: &'static str, attributes: &[Attribute<'_>]) {
        self.begin(name, attributes);
        self.text.push_str(">\n");
        self.open.push(name);
    }

    /// Closes the element that was opened last.
    pub(crate) fn close(&mut self) {
        if let Some(name) = self.open.pop() {
            self.end(name);
        }
    }

    /// An element without content.
    pub(crate) fn empty(&mut self, name: &'static str, attributes: &[Attribute<'_>]) {
        self.begin(name, attributes);
        self.text.push_str("/>\n");
    }

    /// An element with text in it.
    pub(crate) fn text(&mut self, name: &'static str, attributes: &[Attribute<'_>], text: &str) {
        self.begin(name, attributes);
        self.text.push('>');
        escape(text, &mut self.text);
        self.end(name);
    }

    /// Text between elements.
    pub(crate) fn words(&mut self, text: &str) {
        escape(text, &mut self.text);
    }

    /// Markup that is known to be well formed, as it is.
    pub(crate) fn verbatim(&mut self, markup: &str) {
        self.text.push_str(markup);
    }

    /// All of it; what is still open is closed.
    pub(crate) fn into_string(mut self) -> String {
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

/// Puts text where neither markup nor a character that must not stand there comes through.
fn escape(text: &str, into: &mut String) {
    for c in text.chars() {
        match c {
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '"' => into.push_str("&quot;"),
            '\'' => into.push_str("&#39;"),
            '\t' | '\n' | '\r' => into.push(' '),
            c if is_barred(c) => into.push('\u{fffd}'),
            c => into.push(c),
        }
    }
}

/// Whether XML 1.0 forbids a character, or it turns the direction of writing: a name could show itself as another one.
pub(crate) fn is_barred(c: char) -> bool {
    let turns = matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    turns || matches!(c, '\u{fffe}' | '\u{ffff}') || c.is_control()
}
