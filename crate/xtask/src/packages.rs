//! Installs Debian packages where that can be done without asking anybody.

use anyhow::Result;
use xshell::{Shell, cmd};

use crate::workspace::path_of;

/// Whether packages can be installed: as root, on a Debian.
pub(crate) fn can_install(shell: &Shell) -> bool {
    let user = cmd!(shell, "id -u").quiet().ignore_stderr().read();
    user.is_ok_and(|user| user == "0") && path_of("apt-get").is_some()
}

/// Installs packages.
///
/// # Errors
/// When apt fails.
pub(crate) fn install(packages: &[&str]) -> Result<()> {
    let shell = Shell::new()?;
    shell.set_var("DEBIAN_FRONTEND", "noninteractive");
    cmd!(shell, "apt-get update -qq").run()?;
    cmd!(
        shell,
        "apt-get install -qq -y --no-install-recommends {packages...}"
    )
    .ignore_stdout()
    .run()?;
    Ok(())
}
