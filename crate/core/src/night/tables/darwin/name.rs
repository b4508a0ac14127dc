//! What a label's words mean as an identification. Names are never made up here: they are a person's, or none.

/// A label's words that say that no bat is heard, in small letters.
const NO_BAT: [&str; 18] = [
    "noise",
    "none",
    "nothing",
    "no bat",
    "no bats",
    "not a bat",
    "wind",
    "rain",
    "insect",
    "insects",
    "cricket",
    "bush-cricket",
    "bush cricket",
    "bird",
    "machine",
    "electronics",
    "interference",
    "test",
];
/// Signs of open nomenclature (Sigovini, Keppel & Tagliapietra 2016), which are no part of a name.
const QUALIFIERS: [&str; 9] = ["cf.", "cf", "aff.", "aff", "sp.", "sp", "spp.", "spp", "?"];

/// What a label's words say.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// That no bat is heard.
    NoBat,
    /// A name that has the form of a scientific one. Whether there is such a taxon is not known here.
    Name {
        name: String,
        rank: &'static str,
        /// What the words say of doubt, such as `cf. nathusii`.
        qualifier: String,
    },
    /// Anything else.
    Words,
}

pub(super) fn said(words: &str) -> Said {
    let words = words.trim();
    if NO_BAT.contains(&words.to_lowercase().as_str()) {
        return Said::NoBat;
    }
    scientific(words).unwrap_or(Said::Words)
}

/// Words that begin with a capitalised Latin one; what follows is an epithet in small letters, or a qualifier with what it is about.
fn scientific(words: &str) -> Option<Said> {
    let mut parts = words.split_whitespace();
    let first = parts.next().filter(|word| is_capitalised(word))?;
    let others: Vec<&str> = parts.collect();
    let is_qualifier = |word: &&str| QUALIFIERS.contains(word);
    let end = others.iter().position(is_qualifier).unwrap_or(others.len());
    let (epithets, qualifier) = others.split_at(end);
    let is_plain = epithets.iter().all(|word| is_epithet(word));
    let is_doubted = |word: &&str| is_qualifier(word) || is_epithet(word);
    if !is_plain || !qualifier.iter().all(is_doubted) {
        return None;
    }
    let rank = match epithets.len() {
        0 => rank_of(first),
        1 => "species",
        2 => "subspecies",
        _ => return None,
    };
    let name = [&[first], epithets].concat().join(" ");
    Some(Said::Name {
        name,
        rank,
        qualifier: qualifier.join(" "),
    })
}

/// The rank of a single word, by the endings of the International Code of Zoological Nomenclature, article 29.2.
fn rank_of(word: &str) -> &'static str {
    match word {
        "Chiroptera" => "order",
        word if word.ends_with("idae") => "family",
        word if word.ends_with("inae") => "subfamily",
        _ => "genus",
    }
}

fn is_capitalised(word: &str) -> bool {
    let mut letters = word.chars();
    letters
        .next()
        .is_some_and(|first| first.is_ascii_uppercase())
        && word.len() > 2
        && letters.all(|letter| letter.is_ascii_lowercase())
}

fn is_epithet(word: &str) -> bool {
    word.len() > 2
        && word
            .chars()
            .all(|letter| letter.is_ascii_lowercase() || letter == '-')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn name(name: &str, rank: &'static str, qualifier: &str) -> Said {
        Said::Name {
            name: name.to_owned(),
            rank,
            qualifier: qualifier.to_owned(),
        }
    }

    #[test]
    fn names_in_scientific_form_are_parted_from_their_doubt() {
        assert_eq!(
            said("Myotis nattereri"),
            name("Myotis nattereri", "species", "")
        );
        assert_eq!(
            said("Myotis cf. nattereri"),
            name("Myotis", "genus", "cf. nattereri")
        );
        assert_eq!(said("Nyctalus sp."), name("Nyctalus", "genus", "sp."));
        assert_eq!(
            said("Vespertilionidae"),
            name("Vespertilionidae", "family", "")
        );
        assert_eq!(said("Chiroptera"), name("Chiroptera", "order", ""));
    }

    #[test]
    fn other_words_are_no_name() {
        for words in [
            "",
            "pip 45",
            "two bats",
            "Myotis / Plecotus",
            "BAT",
            "45 kHz",
            "Myotis nattereri (faint)",
        ] {
            assert_eq!(said(words), Said::Words, "{words}");
        }
        assert_eq!(said(" Noise"), Said::NoBat);
        assert_eq!(said("no bat"), Said::NoBat);
    }
}
