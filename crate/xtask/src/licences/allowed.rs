//! The one list of licences that go with "MIT OR Apache-2.0".

use spdx::{Expression, LicenseReq, ParseMode};

/// Licences that ask for no more than their text and a name. Anything else is refused, the unknown too.
const ALLOWED: [&str; 8] = [
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "MIT",
    "Unicode-3.0",
    "Zlib",
];

/// Exceptions that only widen what a licence grants.
const ALLOWED_ADDITIONS: [&str; 1] = ["LLVM-exception"];

/// Licences allowed for some packages alone, each with the reason.
const FOR_SOME: [(&str, &str, &str); 4] = [
    // What parquet draws at random when it is built for browsers, where nobody builds it.
    ("CC0-1.0", "tiny-keccak", "cargo"),
    // Packs style sheets while the page is built; nothing of it is in the page.
    ("MPL-2.0", "lightningcss", "npm"),
    // Looks for barriers in the page during tests; not given to anybody.
    ("MPL-2.0", "axe-core", "npm"),
    ("MPL-2.0", "@axe-core/playwright", "npm"),
];

/// Whether a package may be used under its licence, which is an SPDX expression or nearly one.
///
/// # Errors
/// The reason why it may not, as words for a person.
pub(super) fn check(ecosystem: &str, package: &str, licence: Option<&str>) -> Result<(), String> {
    let Some(licence) = licence else {
        return Err("it names no licence".to_owned());
    };
    // Older packages write `MIT/Apache-2.0`.
    let expression = Expression::parse_mode(licence, ParseMode::LAX)
        .map_err(|error| format!("its licence cannot be understood: {error}"))?;
    if expression.evaluate(|asked| is_allowed(ecosystem, package, asked)) {
        return Ok(());
    }
    Err(format!("its licence is not on the list: {licence}"))
}

fn is_allowed(ecosystem: &str, package: &str, asked: &LicenseReq) -> bool {
    let Some(id) = asked.license.id() else {
        return false;
    };
    let for_some = FOR_SOME.iter().any(|(licence, start, where_from)| {
        // The tools bring one package per machine they run on, named by a suffix.
        *licence == id.name && *where_from == ecosystem && package.starts_with(start)
    });
    (ALLOWED.contains(&id.name) || for_some) && addition_is_allowed(asked)
}

fn addition_is_allowed(asked: &LicenseReq) -> bool {
    asked.addition.as_ref().is_none_or(|addition| {
        addition
            .id()
            .is_some_and(|id| ALLOWED_ADDITIONS.contains(&id.name))
    })
}

#[cfg(test)]
mod tests {
    use super::check;

    fn is_fine(licence: &str) -> bool {
        check("cargo", "some-package", Some(licence)).is_ok()
    }

    #[test]
    fn permissive_licences_pass_in_every_spelling() {
        assert!(is_fine("MIT"));
        assert!(is_fine("MIT OR Apache-2.0"));
        assert!(is_fine("MIT/Apache-2.0"));
        assert!(is_fine("Apache-2.0 / MIT"));
        assert!(is_fine("Apache-2.0 WITH LLVM-exception"));
        assert!(is_fine("(MIT OR Apache-2.0) AND Unicode-3.0"));
    }

    #[test]
    fn one_acceptable_choice_is_enough_but_every_duty_counts() {
        assert!(is_fine("MIT OR LGPL-2.1-or-later"));
        assert!(!is_fine("MIT AND LGPL-2.1-or-later"));
    }

    #[test]
    fn copyleft_unknown_and_missing_licences_are_refused() {
        assert!(!is_fine("GPL-3.0-only"));
        assert!(!is_fine("AGPL-3.0-or-later"));
        assert!(!is_fine("Apache-2.0 WITH Classpath-exception-2.0"));
        assert!(!is_fine("LicenseRef-ours"));
        assert!(!is_fine("see the file"));
        assert!(!is_fine(""));
        assert!(check("cargo", "some-package", None).is_err());
    }

    #[test]
    fn an_exception_holds_for_its_packages_alone() {
        assert!(check("npm", "lightningcss-linux-x64-gnu", Some("MPL-2.0")).is_ok());
        assert!(check("npm", "other", Some("MPL-2.0")).is_err());
        assert!(check("cargo", "lightningcss", Some("MPL-2.0")).is_err());
    }
}
