//! What `--version` says: the version and, where the source is a clone, the
//! commit it was built from. And a program without its symbols.

use std::env;
use std::process::Command;

fn main() {
    let version = env::var("CARGO_PKG_VERSION").unwrap_or_default();
    println!("cargo:rerun-if-env-changed=TWELVEFOLD_COMMIT");
    let named = env::var("TWELVEFOLD_COMMIT").ok();
    let commit = named.or_else(|| {
        for file in ["HEAD", "logs/HEAD"] {
            if let Some(path) = git(&["rev-parse", "--path-format=absolute", "--git-path", file]) {
                println!("cargo:rerun-if-changed={path}");
            }
        }
        git(&["rev-parse", "--short=12", "HEAD"])
    });
    let commit = commit.map_or(String::new(), |commit| format!(" ({commit})"));
    println!("cargo:rustc-env=TWELVEFOLD_VERSION={version}{commit}");
    strip();
}

/// Cargo forgets the profile's `strip` where a package has an `opt-level` of
/// its own, as this one has: the linker is told again (a quarter of the file).
fn strip() {
    let is = |name: &str, value: &str| env::var(name).as_deref() == Ok(value);
    if is("PROFILE", "release") && is("CARGO_CFG_TARGET_OS", "linux") {
        println!("cargo:rustc-link-arg-bins=-Wl,--strip-all");
    }
}

/// What git says, if there is one and the source is a clone.
fn git(arguments: &[&str]) -> Option<String> {
    let output = Command::new("git").args(arguments).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    let text = text.trim();
    (output.status.success() && !text.is_empty()).then(|| text.to_owned())
}
