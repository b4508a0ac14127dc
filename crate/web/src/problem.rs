//! What went wrong, as it crosses to the page.

use dusklens_core::draw::{FigureError, ViewError, WaveformError};
use dusklens_core::listen::ListeningError;
use dusklens_core::pulse::hand::HandError;
use dusklens_core::recording::ReadError;
use dusklens_core::share::LinkError;
use serde::{Deserialize, Serialize};
use tsify::Tsify;
use wasm_bindgen::JsValue;

/// What went wrong, in words for the person. Thrown as a plain object.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Tsify)]
pub struct Problem {
    /// What is wrong, as a sentence.
    pub message: String,
    /// What can still be done, as a sentence; empty where there is nothing to say.
    pub advice: String,
    /// The byte of the file where the fault lies, if it lies in one place.
    pub byte: Option<u64>,
}

impl Problem {
    /// The browser has no way to read a file in slices here.
    pub(crate) fn no_reader() -> Self {
        Self {
            message: "This browser cannot read files in the background.".to_owned(),
            advice: "Open the page in a current version of Firefox, Chrome, Edge or Safari."
                .to_owned(),
            byte: None,
        }
    }
}

impl Problem {
    /// What was found cannot be written down; a fault of ours.
    pub(crate) fn unfit() -> Self {
        Self {
            message: "What was found in this file cannot be kept.".to_owned(),
            advice: "Open the file by itself; please tell us of it.".to_owned(),
            byte: None,
        }
    }
}

impl From<ReadError> for Problem {
    fn from(error: ReadError) -> Self {
        Self {
            message: sentence(&error.to_string()),
            advice: error.advice().to_owned(),
            byte: error.byte(),
        }
    }
}

impl From<ViewError> for Problem {
    fn from(error: ViewError) -> Self {
        Self {
            message: sentence(&error.to_string()),
            advice: "Go back to the whole recording and choose the stretch again.".to_owned(),
            byte: None,
        }
    }
}

impl From<WaveformError> for Problem {
    fn from(error: WaveformError) -> Self {
        Self {
            message: sentence(&error.to_string()),
            advice: "Go back to the whole recording and choose the stretch again.".to_owned(),
            byte: None,
        }
    }
}

impl From<FigureError> for Problem {
    fn from(error: FigureError) -> Self {
        Self {
            message: sentence(&error.to_string()),
            advice: "Choose another size or another stretch.".to_owned(),
            byte: None,
        }
    }
}

impl From<HandError> for Problem {
    fn from(error: HandError) -> Self {
        let byte = match &error {
            HandError::Read(error) => error.byte(),
            _ => None,
        };
        Self {
            message: sentence(&error.to_string()),
            advice: error.advice().to_owned(),
            byte,
        }
    }
}

impl From<ListeningError> for Problem {
    fn from(error: ListeningError) -> Self {
        Self {
            message: sentence(&error.to_string()),
            advice: "Choose another stretch, factor or tuning, and play again.".to_owned(),
            byte: None,
        }
    }
}

impl From<LinkError> for Problem {
    fn from(error: LinkError) -> Self {
        Self {
            message: sentence(&error.to_string()),
            advice: error.advice().to_owned(),
            byte: None,
        }
    }
}

impl From<serde_wasm_bindgen::Error> for Problem {
    /// Only a page that does not fit this module sends values of another form.
    fn from(error: serde_wasm_bindgen::Error) -> Self {
        Self {
            message: format!(
                "The page asked for something that its core does not understand: {error}."
            ),
            advice: "Load the page again, so that all its parts are of one version.".to_owned(),
            byte: None,
        }
    }
}

impl From<Problem> for JsValue {
    fn from(problem: Problem) -> Self {
        serde_wasm_bindgen::to_value(&problem)
            .unwrap_or_else(|_| js_sys::Error::new(&problem.message).into())
    }
}

/// A message with a capital and a full stop.
pub(crate) fn sentence(message: &str) -> String {
    let mut letters = message.chars();
    let mut text: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    text.push_str(letters.as_str());
    if !text.ends_with(['.', '!', '?']) {
        text.push('.');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn messages_become_sentences() {
        assert_eq!(sentence("the file is empty"), "The file is empty.");
        assert_eq!(sentence("État."), "État.");
        assert_eq!(sentence(""), ".");
    }

    #[test]
    fn a_read_error_keeps_its_byte_and_advice() {
        let problem = Problem::from(ReadError::TooShort { length: 7 });
        assert_eq!(problem.byte, Some(7));
        assert!(problem.message.starts_with("The file ends after 7 bytes"));
        assert!(problem.advice.contains("card"));
    }
}
