//! A browser without a window, where the machine has one.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// Names that the browser goes by.
const NAMES: [&str; 2] = ["chromium", "chromium-browser"];

/// A browser that can be run.
pub struct Browser(PathBuf);

impl Browser {
    /// The one that the variable `CHROMIUM` names, or one on the path. Without
    /// one the test says that it was passed over.
    pub fn find(test: &str) -> Option<Browser> {
        let named = std::env::var_os("CHROMIUM").map(PathBuf::from);
        let path = std::env::var_os("PATH").unwrap_or_default();
        let on_path = std::env::split_paths(&path)
            .flat_map(|dir| NAMES.map(|name| dir.join(name)))
            .find(|file| file.is_file());
        let found = named.or(on_path);
        // A name alone is no browser: some systems put a note in its place.
        let starts = |browser: &PathBuf| {
            let version = Command::new(browser).arg("--version").output();
            version.is_ok_and(|said| said.status.success())
        };
        let why = match &found {
            None => "there is no browser (CHROMIUM can name one)".to_string(),
            Some(browser) if starts(browser) => return found.map(Browser),
            Some(browser) => format!("{} does not start", browser.display()),
        };
        // Past the harness, which keeps the words of a test that passes.
        let _ = writeln!(std::io::stderr(), "{test}: passed over, {why}");
        None
    }

    fn call(&self, dir: &Path) -> Command {
        let mut command = Command::new(&self.0);
        let profile = dir.join("profile").display().to_string();
        command
            .args([
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--hide-scrollbars",
            ])
            .args([
                "--no-first-run",
                "--disable-dev-shm-usage",
                "--disable-background-networking",
            ])
            // Nothing is fetched: there is nowhere to fetch it from.
            .arg("--host-resolver-rules=MAP * ~NOTFOUND")
            .arg(format!("--user-data-dir={profile}"))
            .current_dir(dir)
            .stdin(Stdio::null());
        command
    }

    /// Prints a page.
    pub fn print(&self, dir: &Path, page: &str) -> lopdf::Document {
        let pdf = dir.join(format!("{page}.pdf"));
        let printed = self
            .call(dir)
            .arg("--no-pdf-header-footer")
            .arg(format!("--print-to-pdf={}", pdf.display()))
            .arg(url(dir, page))
            .output()
            .expect("the browser starts");
        let said = String::from_utf8_lossy(&printed.stderr);
        lopdf::Document::load(&pdf).unwrap_or_else(|error| panic!("{error}: {said}"))
    }

    /// A page as it is after its scripts have run.
    pub fn dom(&self, dir: &Path, page: &str) -> String {
        let shown = self
            .call(dir)
            .arg("--dump-dom")
            .arg(url(dir, page))
            .output()
            .expect("the browser starts");
        String::from_utf8(shown.stdout).expect("text")
    }
}

fn url(dir: &Path, page: &str) -> String {
    format!("file://{}", dir.join(page).display())
}
