//! `cargo xtask licences`: whether everything that is used goes with the project's own licence.

mod allowed;

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use serde_json::Value;
use xshell::cmd;

use crate::workspace::{self, shell_in};

/// A package that the project uses, and the licence that it declares.
#[derive(Debug, PartialEq, Eq)]
struct Package {
    ecosystem: &'static str,
    name: String,
    version: String,
    licence: Option<String>,
}

/// Checks every package of both lock files' trees, for whatever machine, against the list.
///
/// # Errors
/// When a package is refused, or a list cannot be read.
pub(crate) fn audit() -> Result<()> {
    let mut packages = cargo_packages()?;
    for folder in [workspace::www(), workspace::page_tests()] {
        packages.extend(npm_packages(&folder)?);
    }
    let mut refused = 0;
    for package in &packages {
        let licence = package.licence.as_deref();
        if let Err(reason) = allowed::check(package.ecosystem, &package.name, licence) {
            let Package {
                ecosystem,
                name,
                version,
                ..
            } = package;
            println!("    {ecosystem} {name} {version}: {reason}");
            refused += 1;
        }
    }
    println!("    {} packages, {refused} refused", packages.len());
    if refused > 0 {
        bail!("packages are used whose licences are not on the list");
    }
    Ok(())
}

fn cargo_packages() -> Result<Vec<Package>> {
    let shell = shell_in(workspace::root())?;
    let text = cmd!(shell, "cargo metadata --format-version 1 --locked")
        .quiet()
        .read()?;
    from_metadata(&serde_json::from_str(&text)?)
}

fn from_metadata(metadata: &Value) -> Result<Vec<Package>> {
    let packages = metadata["packages"]
        .as_array()
        .context("cargo's metadata lists no packages")?;
    Ok(packages
        .iter()
        .map(|package| Package {
            ecosystem: "cargo",
            name: text(&package["name"]),
            version: text(&package["version"]),
            licence: package["license"].as_str().map(str::to_owned),
        })
        .collect())
}

fn npm_packages(folder: &Path) -> Result<Vec<Package>> {
    let file = folder.join("package-lock.json");
    let content =
        fs::read_to_string(&file).with_context(|| format!("could not read {}", file.display()))?;
    from_lock(&serde_json::from_str(&content)?)
}

fn from_lock(lock: &Value) -> Result<Vec<Package>> {
    let packages = lock["packages"]
        .as_object()
        .context("package-lock.json lists no packages")?;
    Ok(packages
        .iter()
        .map(|(path, package)| Package {
            ecosystem: "npm",
            name: name_in(path).to_owned(),
            version: text(&package["version"]),
            licence: package["license"].as_str().map(str::to_owned),
        })
        .collect())
}

/// The package's name from the folder it is installed in; packages may lie inside others.
fn name_in(path: &str) -> &str {
    path.rsplit_once("node_modules/")
        .map_or(path, |(_, name)| name)
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

    use serde_json::json;

    use super::{from_lock, from_metadata};

    #[test]
    fn a_lock_file_gives_names_also_of_packages_inside_others() {
        let lock = json!({"packages": {
            "node_modules/@axe-core/playwright": {"version": "4.13.0", "license": "MPL-2.0"},
            "node_modules/a/node_modules/b": {"version": "1.0.0"},
        }});
        let packages = from_lock(&lock).unwrap();
        assert_eq!(packages[0].name, "@axe-core/playwright");
        assert_eq!(packages[0].licence.as_deref(), Some("MPL-2.0"));
        assert_eq!(packages[1].name, "b");
        assert_eq!(packages[1].licence, None);
    }

    #[test]
    fn metadata_without_a_licence_is_kept_as_such() {
        let metadata = json!({"packages": [{"name": "a", "version": "1.0.0", "license": null}]});
        assert_eq!(from_metadata(&metadata).unwrap()[0].licence, None);
    }

    #[test]
    fn a_list_that_is_not_one_is_an_error_and_not_an_empty_pass() {
        assert!(from_metadata(&json!({})).is_err());
        assert!(from_lock(&json!({"lockfileVersion": 1})).is_err());
    }
}
