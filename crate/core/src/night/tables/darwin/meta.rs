//! The description of the archive's files: which column is which term.

use std::fmt::Write;

use super::super::table::Heading;
use super::super::table::table;
use super::event::columns as event_columns;
use super::occurrence::columns as occurrence_columns;

/// Where the terms are defined.
const TERMS: &str = "http://rs.tdwg.org/dwc/terms/";

/// The file `meta.xml` for `event.csv` and `occurrence.csv` beside it.
#[must_use]
pub fn meta_xml() -> String {
    let events = table("", &event_columns(), None).headings;
    let occurrences = table("", &occurrence_columns(), None).headings;
    let mut text = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<archive xmlns=\"http://rs.tdwg.org/dwc/text/\">\n",
    );
    text.push_str(&file("core", "Event", "event.csv", "id", &events));
    text.push_str(&file(
        "extension",
        "Occurrence",
        "occurrence.csv",
        "coreid",
        &occurrences,
    ));
    text.push_str("</archive>\n");
    text
}

/// A table's element; `key` is the element that names the column with the event's identifier.
fn file(element: &str, class: &str, name: &str, key: &str, headings: &[Heading]) -> String {
    let at = headings
        .iter()
        .position(|heading| heading.name == "eventID");
    let mut text = format!(
        "  <{element} rowType=\"{TERMS}{class}\" encoding=\"UTF-8\" fieldsTerminatedBy=\",\" linesTerminatedBy=\"\\n\" \
         fieldsEnclosedBy=\"&quot;\" ignoreHeaderLines=\"1\">\n    <files><location>{name}</location></files>\n"
    );
    // Writing to a string cannot fail.
    let _ = writeln!(text, "    <{key} index=\"{}\"/>", at.unwrap_or(0));
    for (index, heading) in headings.iter().enumerate() {
        let _ = writeln!(
            text,
            "    <field index=\"{index}\" term=\"{TERMS}{}\"/>",
            heading.name
        );
    }
    let _ = writeln!(text, "  </{element}>");
    text
}
