//! The paths of the tray, of the settings file, and of files typed by a maker.

use std::ffi::OsString;
use std::path::{Path, PathBuf, is_separator};

use super::error::Error;

/// The environment variable that names the tray.
pub const VARIABLE: &str = "THREADMARK_TRAY";

/// The tray's directory: given by the flag, or else by [`VARIABLE`], or else
/// `tray` in the platform's directory for this program's data. It need not
/// exist.
///
/// # Errors
/// [`Error::NoPlace`] if none is given and the platform has none.
pub fn tray_dir(flag: Option<&Path>) -> Result<PathBuf, Error> {
    let platform = || {
        let dirs = directories::ProjectDirs::from("", "", "threadmark")?;
        Some(dirs.data_dir().join("tray"))
    };
    choose(flag, std::env::var_os(VARIABLE), platform)
}

/// The environment variable that names the file of the maker's settings.
pub const SETTINGS_VARIABLE: &str = "THREADMARK_SETTINGS";

/// The file of the maker's settings: given by [`SETTINGS_VARIABLE`], or else
/// `settings.json` in the platform's directory for configuration. It need not
/// exist. `None` if the platform has no such directory.
pub fn settings_file() -> Option<PathBuf> {
    let named = std::env::var_os(SETTINGS_VARIABLE).filter(|named| !named.is_empty());
    named.map(PathBuf::from).or_else(|| {
        let dirs = directories::ProjectDirs::from("", "", "threadmark")?;
        Some(dirs.config_dir().join("settings.json"))
    })
}

/// The file that a maker typed where no shell stands between: `~/` is the home
/// directory.
pub fn typed(name: &str) -> PathBuf {
    let below_home = name
        .strip_prefix('~')
        .filter(|rest| rest.starts_with(is_separator));
    let in_home = below_home.and_then(|rest| {
        let home = directories::BaseDirs::new()?.home_dir().to_path_buf();
        Some(home.join(rest.trim_start_matches(is_separator)))
    });
    in_home.unwrap_or_else(|| name.into())
}

fn choose(
    flag: Option<&Path>,
    variable: Option<OsString>,
    platform: impl FnOnce() -> Option<PathBuf>,
) -> Result<PathBuf, Error> {
    let named = |variable: OsString| (!variable.is_empty()).then(|| PathBuf::from(variable));
    flag.map(Path::to_path_buf)
        .or_else(|| variable.and_then(named))
        .or_else(platform)
        .ok_or(Error::NoPlace { variable: VARIABLE })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn platform() -> Option<PathBuf> {
        Some("/data".into())
    }

    #[test]
    fn the_flag_wins_over_the_variable_and_the_variable_over_the_platform() {
        let chosen = |flag: Option<&str>, variable: Option<&str>| {
            choose(flag.map(Path::new), variable.map(OsString::from), platform).unwrap()
        };
        assert_eq!(chosen(Some("a"), Some("b")), Path::new("a"));
        assert_eq!(chosen(None, Some("b")), Path::new("b"));
        assert_eq!(chosen(None, Some("")), Path::new("/data"));
        assert_eq!(chosen(None, None), Path::new("/data"));
    }

    #[test]
    fn only_a_tilde_with_a_separator_is_the_home_directory() {
        let home = directories::BaseDirs::new().unwrap();
        assert_eq!(typed("~/a/b"), home.home_dir().join("a/b"));
        for name in ["a", "a/~/b", "~a", "~", "/a", "./~/a"] {
            assert_eq!(typed(name), Path::new(name));
        }
    }

    #[test]
    fn a_system_without_a_data_directory_says_how_to_give_one() {
        let error = choose(None, None, || None).unwrap_err();
        assert!(error.to_string().contains("THREADMARK_TRAY"), "{error}");
    }
}
