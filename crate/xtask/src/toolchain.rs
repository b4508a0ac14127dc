//! Finds, or fetches, a Rust compiler that can build for wasm.

use std::path::Path;
use std::process::{Child, Command, ExitStatus};
use std::thread;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use xshell::{Shell, cmd};

use crate::packages;
use crate::progress::step;
use crate::workspace::path_of;

/// The target that browsers run.
pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

/// `rustup target add` takes seconds, or hangs; cut short, it leaves the toolchain whole.
const RUSTUP_BOUND: Duration = Duration::from_secs(60);

/// Debian's packages of a compiler that can build the standard library for wasm by itself.
const DEBIAN_PACKAGES: [&str; 4] = ["rustc-web", "cargo-web", "rust-web-src", "lld-19"];

/// What builds for wasm.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Toolchain {
    /// The compiler in use has the target's ready-made library.
    Ready,
    /// Debian's compiler, which builds the library from its source.
    Debian,
}

impl Toolchain {
    /// The start of a cargo command for the wasm target: `cargo VERB --target ...` with all that this compiler needs.
    /// `library` names the crates of the standard library that have to be built where none is ready.
    pub(crate) fn cargo(self, verb: &str, library: &str) -> Command {
        match self {
            Self::Ready => {
                let mut cargo = Command::new("cargo");
                cargo.args([verb, "--target", TARGET]);
                cargo
            }
            Self::Debian => {
                let path = std::env::var("PATH").unwrap_or_default();
                let mut cargo = Command::new("/usr/bin/cargo");
                cargo
                    .env("PATH", format!("/usr/bin:{path}"))
                    .env("RUSTC_BOOTSTRAP", "1")
                    .env("RUSTC", "/usr/bin/rustc")
                    .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", "wasm-ld-19")
                    .env_remove("RUSTUP_TOOLCHAIN")
                    .args([verb, "--target", TARGET])
                    .arg(format!("-Zbuild-std={library}"));
                cargo
            }
        }
    }

    /// The compiler's version, which decides what it makes.
    pub(crate) fn version(self) -> Result<String> {
        let compiler = match self {
            Self::Ready => "rustc",
            Self::Debian => "/usr/bin/rustc",
        };
        let output = Command::new(compiler).arg("-vV").output()?;
        Ok(String::from_utf8_lossy(&output.stdout).into_owned())
    }
}

/// Makes sure that something here builds for wasm, fetching it if need be.
///
/// # Errors
/// Where neither rustup nor Debian's packages serve; the message says what to install.
pub(crate) fn ensure() -> Result<Toolchain> {
    let shell = Shell::new()?;
    if target_is_ready(&shell) {
        return Ok(Toolchain::Ready);
    }
    if path_of("rustup").is_some()
        && step("Adding the wasm target to Rust", add_with_rustup).is_ok()
    {
        return Ok(Toolchain::Ready);
    }
    if debian_is_ready(&shell) {
        return Ok(Toolchain::Debian);
    }
    if packages::can_install(&shell) {
        step("Installing Debian's Rust for wasm", || {
            packages::install(&DEBIAN_PACKAGES)
        })?;
        if debian_is_ready(&shell) {
            return Ok(Toolchain::Debian);
        }
    }
    bail!(
        "Rust cannot build for wasm here. Either of these helps:\n  \
         rustup target add {TARGET}\n  \
         apt-get install {}   (Debian 12 or later, as root)",
        DEBIAN_PACKAGES.join(" ")
    )
}

/// Whether the compiler in use has the target's library.
fn target_is_ready(shell: &Shell) -> bool {
    let Ok(folder) = cmd!(shell, "rustc --print target-libdir --target {TARGET}")
        .quiet()
        .ignore_stderr()
        .read()
    else {
        return false;
    };
    let Ok(entries) = std::fs::read_dir(folder) else {
        return false;
    };
    entries
        .flatten()
        .any(|entry| entry.file_name().to_string_lossy().starts_with("libstd"))
}

fn add_with_rustup() -> Result<()> {
    for attempt in 1..=2 {
        let child = Command::new("rustup")
            .args(["target", "add", TARGET])
            .spawn()
            .context("could not start rustup")?;
        match wait_at_most(child, RUSTUP_BOUND)? {
            Some(status) if status.success() => return Ok(()),
            Some(status) => println!("    rustup ended with {status} (attempt {attempt} of 2)"),
            None => println!(
                "    rustup gave no result within {} s (attempt {attempt} of 2)",
                RUSTUP_BOUND.as_secs()
            ),
        }
    }
    bail!("rustup could not add {TARGET}")
}

/// Waits for a process, and ends it when the bound has passed; then there is no status.
fn wait_at_most(mut child: Child, bound: Duration) -> Result<Option<ExitStatus>> {
    let begun = Instant::now();
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok(Some(status));
        }
        if begun.elapsed() > bound {
            child.kill()?;
            child.wait()?;
            return Ok(None);
        }
        thread::sleep(Duration::from_millis(50));
    }
}

fn debian_is_ready(shell: &Shell) -> bool {
    let Ok(sysroot) = cmd!(shell, "/usr/bin/rustc --print sysroot")
        .quiet()
        .ignore_stderr()
        .read()
    else {
        return false;
    };
    Path::new(&sysroot)
        .join("lib/rustlib/src/rust/library/std/src/lib.rs")
        .exists()
        && Path::new("/usr/bin/cargo").exists()
        && path_of("wasm-ld-19").is_some()
}
