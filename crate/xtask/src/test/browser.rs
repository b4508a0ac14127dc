//! Finds, or installs, the browser that the tests drive.

use std::ffi::OsString;

use anyhow::{Result, bail};
use xshell::Shell;

use crate::packages::{can_install, install};
use crate::progress::step;
use crate::workspace::path_of;

/// A Chromium and the program that drives it.
pub(super) struct Browser {
    pub(super) program: OsString,
    pub(super) driver: OsString,
}

impl Browser {
    /// Finds both, and installs them where that can be done without asking anybody.
    ///
    /// # Errors
    /// Where they are missing and cannot be installed; the message says what to install.
    pub(super) fn ensure() -> Result<Self> {
        if let Some(browser) = Self::find() {
            return Ok(browser);
        }
        if can_install(&Shell::new()?) {
            step("Installing Chromium and its driver", || {
                install(&["chromium", "chromium-driver"])
            })?;
        }
        match Self::find() {
            Some(browser) => Ok(browser),
            None => bail!(
                "Chromium and its driver are needed. On Debian: apt-get install chromium chromium-driver"
            ),
        }
    }

    fn find() -> Option<Self> {
        let program = ["chromium", "chromium-browser", "google-chrome"]
            .into_iter()
            .find_map(path_of)?
            .into_os_string();
        let driver = path_of("chromedriver")?.into_os_string();
        Some(Self { program, driver })
    }
}
